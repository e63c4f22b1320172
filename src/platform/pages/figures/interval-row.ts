import { scaleLinear, scaleLog } from 'd3-scale'
import { type Drawing, line, path, rect, roughWidth, type Shape, tenth, text } from './drawing.ts'

/** One axis that all rows of a table share. */
export interface IntervalAxis {
  kind: 'linear' | 'log'
  from: number
  to: number
  /** Width of every drawing on it, in units. */
  width: number
  ticks: { at: number; label: string | null }[]
  /** Where there is no difference: a thin upright through every row (1 for a ratio). */
  reference?: number
}

export interface IntervalInput {
  id: string
  title: string
  description: string
  estimate: number | null
  lower: number
  upper: number
  /** Break-even: an open triangle. */
  break_even?: number
  height?: number
}

const EDGE = 8
const TICK = { width: 4, height: 16 }

function placeOn(axis: IntervalAxis): (value: number) => number {
  const scale = axis.kind === 'log' ? scaleLog() : scaleLinear()
  scale
    .domain([axis.from, axis.to])
    .range([EDGE, axis.width - EDGE])
    .clamp(true)
  // a limit of 0 has no logarithm: it lies beyond every axis
  return value => (axis.kind === 'log' && value <= 0 ? EDGE : scale(value))
}

/** A line from lower to upper with the estimate as a tick; an arrow where the line goes on past the axis. */
export function intervalRow(axis: IntervalAxis, row: IntervalInput): Drawing {
  const at = placeOn(axis)
  const height = row.height ?? 32
  const y = height / 2
  const [left, right] = [at(row.lower), at(row.upper)]
  const shapes: Shape[] = [
    ...(axis.reference === undefined ? [] : [line('hair', at(axis.reference), 0, at(axis.reference), height)]),
    line('ink-line', left, y, right, y),
    ...(row.lower < axis.from ? [arrow(left, y, 1)] : []),
    ...(row.upper > axis.to ? [arrow(right, y, -1)] : []),
  ]
  if (row.estimate !== null) {
    shapes.push(rect('solid', at(row.estimate) - TICK.width / 2, y - TICK.height / 2, TICK.width, TICK.height))
  }
  if (row.break_even !== undefined) {
    shapes.push(path('blank', `M${tenth(at(row.break_even))} ${tenth(y - 3)}l-6 -10h12z`))
  }
  return drawing(row.id, row.title, row.description, axis.width, height, shapes)
}

function arrow(x: number, y: number, inwards: 1 | -1): Shape {
  const back = tenth(x + 6 * inwards)
  return path('ink-line', `M${back} ${tenth(y - 5)}L${tenth(x)} ${tenth(y)}L${back} ${tenth(y + 5)}`)
}

/** The axis itself, for the last row of the table. */
export function intervalAxis(axis: IntervalAxis, id: string, description: string): Drawing {
  const at = placeOn(axis)
  const shapes = [
    line('hair', EDGE, 1, axis.width - EDGE, 1),
    ...axis.ticks.flatMap(tick => [
      line('hair', at(tick.at), 1, at(tick.at), 6),
      ...(tick.label === null
        ? []
        : [text('faint-text', within(axis, at(tick.at), tick.label), 20, tick.label, 'middle')]),
    ]),
  ]
  return drawing(id, 'Axis', description, axis.width, 24, shapes)
}

/** The middle of a label: beneath its tick, and at the ends so far inwards that nothing of it is cut off. */
function within({ width }: IntervalAxis, x: number, label: string): number {
  const half = roughWidth(label, 7) / 2
  return Math.min(Math.max(x, half), width - half)
}

function drawing(
  id: string,
  title: string,
  description: string,
  width: number,
  height: number,
  shapes: Shape[],
): Drawing {
  return { id, title, description, width, height, role: 'img', classes: '', shapes }
}

/** A ratio on an axis where each step doubles, every other one named, from one eighth to thirty-two. */
export function ratioAxis(width: number): IntervalAxis {
  const powers = [-3, -2, -1, 0, 1, 2, 3, 4, 5]
  return {
    kind: 'log',
    from: 2 ** -3,
    to: 2 ** 5,
    width,
    reference: 1,
    ticks: powers.map(power => ({ at: 2 ** power, label: power % 2 === 0 ? String(2 ** power) : null })),
  }
}

/** A straight axis with `steps` equal steps, each named; `suffix` as in ' %'. */
export function linearAxis(from: number, to: number, steps: number, width: number, suffix = ''): IntervalAxis {
  const step = (to - from) / steps
  const ticks = Array.from({ length: steps + 1 }, (_, place) => {
    const at = from + place * step
    return { at, label: `${tenth(at)}${suffix}` }
  })
  return { kind: 'linear', from, to, width, ticks }
}

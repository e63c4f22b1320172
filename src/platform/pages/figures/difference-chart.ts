import { type Drawing, line, path, type Shape, text } from './drawing.ts'
import { roundTicks, type Scale, straight, tickLabel } from './scale.ts'
import { stepPath } from './step-path.ts'

export interface DifferenceChartInput {
  id: string
  title: string
  description: string
  points: { at: number; difference: number; lower: number; upper: number }[]
  /** The ages between which both groups are watched. */
  from: number
  end: number
  across: string
  /** What stands above the line of no difference: 'more on Haulette'. */
  above: string
  below: string
}

interface Frame {
  width: number
  height: number
  suffix: string
  classes: string
  ticks: number
}

const WIDE: Frame = { width: 680, height: 340, suffix: '-wide', classes: 'wide-drawing', ticks: 6 }
const NARROW: Frame = { width: 350, height: 280, suffix: '-narrow', classes: 'narrow-drawing', ticks: 4 }
const LEFT = 50
const TOP = 30
const BENEATH = 64

/** The difference of two curves as steps about the line of no difference, dashed limits; wide, and narrow for small screens. */
export function differenceChart(input: DifferenceChartInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

function draw(input: DifferenceChartInput, frame: Frame): Drawing {
  const { id, title, description, points, from, end } = input
  const floor = frame.height - BENEATH
  const right = frame.width - 14
  const reach = Math.max(0.1, ...points.flatMap(({ lower, upper }) => [Math.abs(lower), Math.abs(upper)]))
  const x = straight(from, Math.max(end, from + 1), LEFT, right)
  const y = straight(-reach, reach, floor, TOP)
  const across = roundTicks(from, Math.max(end, from + 1), frame.ticks)
  const shapes: Shape[] = [
    ...heights(y, reach, right),
    line('hair', LEFT, floor, right, floor),
    ...across.flatMap(at => [
      line('hair', x(at), floor, x(at), floor + 6),
      text('', x(at), floor + 22, tickLabel(at, (across[1] ?? 1) - (across[0] ?? 0)), 'middle'),
    ]),
    text('faint-text', right, floor + 40, input.across, 'end'),
    text('faint-text halo', LEFT + 4, TOP - 14, input.above),
    text('faint-text halo', LEFT + 4, floor - 8, input.below),
    ...steps('guess', input, 'lower', x, y),
    ...steps('guess', input, 'upper', x, y),
    ...steps('ink-line', input, 'difference', x, y),
  ]
  return {
    ...{ id: `${id}${frame.suffix}`, title, description, width: frame.width, height: frame.height },
    ...{ role: 'img', classes: frame.classes, shapes },
  }
}

function heights(y: Scale, reach: number, right: number): Shape[] {
  const ticks = roundTicks(-reach, reach, 5)
  const step = (ticks[1] ?? 1) - (ticks[0] ?? 0)
  return ticks.flatMap(at => [
    line(at === 0 ? 'ink-line' : 'ruled', LEFT, y(at), right, y(at)),
    text('', LEFT - 8, y(at) + 5, signed(at, step), 'end'),
  ])
}

function signed(value: number, step: number): string {
  return value > 0 ? `+${tickLabel(value, step)}` : tickLabel(value, step).replace('-', '−')
}

function steps(
  mark: string,
  { points, from, end }: DifferenceChartInput,
  which: 'difference' | 'lower' | 'upper',
  x: Scale,
  y: Scale,
): Shape[] {
  const last = points.at(-1)
  if (last === undefined) return []
  const steps = points.map(point => [point.at, point[which]] as const)
  const corners = [[from, 0] as const, ...steps, [end, last[which]] as const]
  return [path(mark, stepPath(corners.map(([at, height]) => [x(at), y(height)] as const)))]
}

import { circle, type Drawing, line, path, rect, type Shape, tenth, text } from './drawing.ts'
import { roundTicks, type Scale, straight, tickLabel } from './scale.ts'

export interface SeasonChartInput {
  id: string
  title: string
  description: string
  /** Twelve names, January first. */
  names: readonly string[]
  /** Twelve counts of the trouble. */
  counts: readonly number[]
  /** As many as the work alone would bring, month by month. */
  expected: readonly number[]
  /** The mean direction in degrees, January from 0 to 30; null where the counts point nowhere. */
  direction: number | null
}

interface Frame {
  width: number
  height: number
  suffix: string
  classes: string
  /** Letters of a month's name. */
  letters: number
}

const WIDE: Frame = { width: 680, height: 300, suffix: '-wide', classes: 'wide-drawing', letters: 3 }
const NARROW: Frame = { width: 350, height: 260, suffix: '-narrow', classes: 'narrow-drawing', letters: 1 }
const LEFT = 40
const TOP = 20
const BENEATH = 58
/** From so many on they are a bar, before that each is a dot. */
const BARS_FROM = 30
const DOT = 5

/** A year of a trouble: dots or filled bars for what came, open bars for what the work alone would bring. */
export function seasonChart(input: SeasonChartInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

function draw(input: SeasonChartInput, frame: Frame): Drawing {
  const { id, title, description, counts, expected } = input
  const floor = frame.height - BENEATH
  const right = frame.width - 10
  const step = (right - LEFT) / 12
  const highest = Math.max(1, ...counts, ...expected)
  const y = straight(0, highest * 1.05, floor, TOP)
  const total = counts.reduce((sum, count) => sum + count, 0)
  const ticks = roundTicks(0, highest, 4).filter(Number.isInteger)
  const shapes: Shape[] = [
    ...ticks.flatMap(at => [
      line(at === 0 ? 'ink-line' : 'ruled', LEFT, y(at), right, y(at)),
      text('faint-text', LEFT - 7, y(at) + 5, tickLabel(at, 1), 'end'),
    ]),
    ...counts.flatMap((count, month) => {
      const middle = LEFT + (month + 0.5) * step
      return [
        open(middle, expected[month] ?? 0, step, y, floor),
        ...(total < BARS_FROM ? dots(middle, count, y) : filled(middle, count, step, y, floor)),
        text('faint-text', middle, floor + 18, (input.names[month] ?? '').slice(0, frame.letters), 'middle'),
      ]
    }),
    ...pointer(input.direction, step, floor),
  ]
  return {
    ...{ id: `${id}${frame.suffix}`, title, description, width: frame.width, height: frame.height },
    ...{ role: 'img', classes: frame.classes, shapes },
  }
}

function open(middle: number, count: number, step: number, y: Scale, floor: number): Shape {
  const [width, top] = [step * 0.72, y(count)]
  return rect('outline', middle - width / 2, top, width, floor - top)
}

function filled(middle: number, count: number, step: number, y: Scale, floor: number): Shape[] {
  const [width, top] = [step * 0.32, y(count)]
  return count === 0 ? [] : [rect('solid', middle - width / 2, top, width, floor - top)]
}

/** One on top of the other, each at its own height, so that the axis holds for them. */
function dots(middle: number, count: number, y: Scale): Shape[] {
  return Array.from({ length: count }, (_, at) => circle('solid', middle, y(at + 0.5), DOT))
}

/** Where in the year the counts point: an open triangle beneath. */
function pointer(direction: number | null, step: number, floor: number): Shape[] {
  if (direction === null) return []
  const at = LEFT + (direction / 30) * step
  return [
    path('blank', `M${tenth(at)} ${floor + 26}l6 10h-12z`),
    text('faint-text', at, floor + 52, 'middle of it', 'middle'),
  ]
}

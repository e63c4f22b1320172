import { circle, type Drawing, line, rect, type Shape, text } from './drawing.ts'
import { roundTicks, straight, tickLabel } from './scale.ts'

/** What was foretold at one month's end, and what then happened. */
export interface Foretold {
  label: string
  expected: number
  lower: number
  upper: number
  happened: number
}

export interface BackTestInput {
  id: string
  title: string
  description: string
  months: Foretold[]
}

interface Frame {
  width: number
  suffix: string
  classes: string
  /** Every how many months one is named. */
  named: number
}

const WIDE: Frame = { width: 520, suffix: '-wide', classes: 'wide-drawing column-drawing', named: 2 }
const NARROW: Frame = { width: 350, suffix: '-narrow', classes: 'narrow-drawing', named: 3 }
const LEFT = 30
const FLOOR = 124

/** Interval and tick: what was foretold; ring beside it: what happened. */
export function backTestChart(input: BackTestInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

function draw({ id, title, description, months }: BackTestInput, { width, suffix, classes, named }: Frame): Drawing {
  const right = width - 8
  const highest = Math.max(1, ...months.flatMap(month => [month.upper, month.happened]))
  const y = straight(0, highest, FLOOR, 19.5)
  const ticks = roundTicks(0, highest, 3)
  const step = (right - LEFT) / Math.max(1, months.length)
  const shapes: Shape[] = [
    ...ticks.flatMap(at => [
      line(at === 0 ? 'ink-line' : 'ruled', LEFT, y(at), right, y(at)),
      text('faint-text', LEFT - 6, y(at) + 5, tickLabel(at, ticks[1] ?? 1), 'end'),
    ]),
    ...months.flatMap((month, place) => {
      const x = LEFT + (place + 0.5) * step
      return [
        line('ink-line', x, y(month.lower), x, y(month.upper)),
        rect('solid', x - 5, y(month.expected) - 1.5, 10, 3),
        circle('blank', x + 9, y(month.happened), 4),
        ...(place % named === 0 ? [text('faint-text', x, FLOOR + 17, month.label, 'middle')] : []),
      ]
    }),
  ]
  return { id: `${id}${suffix}`, title, description, width, height: 150, role: 'img', classes, shapes }
}

import { grouped } from '../../../core/words.ts'
import { line, path, type Shape, tenth, text } from './drawing.ts'
import { roundTicks } from './scale.ts'
import { dayOf, type Frame, type Lines, type Placed } from './time-line-parts.ts'
import type { Axis, DateAxis, DistanceAxis } from './time-line-scales.ts'

/** From each event's place on the line of dates to its place on the line of distance. */
export function threads(placed: Placed[], { upper, lower }: Lines): Shape[] {
  return placed.flatMap(({ x, below }) =>
    below === null ? [] : [path('ruled', `M${tenth(x)} ${upper}V${upper + 34}L${tenth(below)} ${lower - 32}V${lower}`)],
  )
}

/** One of the two lines; where it is broken, with two leaning strokes before the part that is to scale. */
export function axisLine({ isBroken, begins }: Axis, y: number, { left, right }: Frame): Shape[] {
  if (!isBroken) return [line('ink-line', left, y, right, y)]
  const at = begins - (begins - left) / 4
  const stroke = (x: number) => line('ink-line', x - 4, y + 9, x + 4, y - 9)
  return [line('ink-line', left, y, at - 4, y), stroke(at - 4), stroke(at + 4), line('ink-line', at + 4, y, right, y)]
}

/** The years along the upper line. */
export function dates({ years, scale }: DateAxis, upper: number, frame: Frame): Shape[] {
  const every = Math.ceil(years.length / (frame.narrow ? 6 : 16))
  return [...years, years.at(-1)! + 1].flatMap((year, place) => {
    const at = scale(dayOf(`${year}-01-01`))
    const named = place < years.length && place % every === 0
    return [
      line('hair', at, upper, at, upper + 25),
      ...(named ? [text('faint-text halo', at + 5, upper + 26, String(year))] : []),
    ]
  })
}

/** Round distances along the lower line, the first with its unit. */
export function distances({ near, far, scale }: DistanceAxis, lower: number, unit: string, frame: Frame): Shape[] {
  return roundTicks(near, far, frame.distanceTicks).flatMap((distance, place) => {
    const at = scale(distance)
    const words = grouped(String(distance))
    return [
      line('hair', at, lower - 9, at, lower),
      ...(at + 50 > frame.width
        ? []
        : [text('faint-text halo', at + 5, lower - 9, place === 0 ? `${words} ${unit}` : words)]),
    ]
  })
}

/** In the corners, where no label reaches. */
export function legend(frame: Frame, height: number): Shape[] {
  if (frame.narrow)
    return [text('faint-text', 2, 14, 'by us, above'), text('faint-text', 2, height - 8, 'by others, below')]
  return [
    text('faint-text', 2, 14, 'Work by us stands above the line of dates,'),
    text('faint-text', 2, 31, 'with what failed.'),
    text('faint-text', 2, height - 38, 'Work by others hangs below'),
    text('faint-text', 2, height - 21, 'the line of distance.'),
  ]
}

import { grouped } from '../../../core/words.ts'
import { line, path, type Shape, tenth, text } from './drawing.ts'
import { roundTicks, type Scale } from './scale.ts'
import { dayOf, type Frame, type Lines, type Placed } from './time-line-parts.ts'

/** From each event's place on the line of dates to its place on the line of distance. */
export function threads(placed: Placed[], { upper, lower }: Lines): Shape[] {
  return placed.flatMap(({ x, below }) =>
    below === null ? [] : [path('ruled', `M${tenth(x)} ${upper}V${upper + 34}L${tenth(below)} ${lower - 32}V${lower}`)],
  )
}

/** The years along the upper line. */
export function dates(years: number[], x: Scale, upper: number, frame: Frame): Shape[] {
  const every = Math.ceil(years.length / (frame.narrow ? 6 : 16))
  return [...years, years.at(-1)! + 1].flatMap((year, place) => {
    const at = x(dayOf(`${year}-01-01`))
    const named = place < years.length && place % every === 0
    return [
      line('hair', at, upper, at, upper + 25),
      ...(named ? [text('faint-text halo', at + 5, upper + 26, String(year))] : []),
    ]
  })
}

/** Round distances along the lower line. */
export function distances(farthest: number, x: Scale, lower: number, unit: string, frame: Frame): Shape[] {
  return roundTicks(0, farthest * 1.09, frame.distanceTicks).flatMap(distance => [
    line('hair', x(distance), lower - 9, x(distance), lower),
    ...(x(distance) + 50 > frame.width
      ? []
      : [
          text('faint-text halo', x(distance) + 5, lower - 9, distance === 0 ? `0 ${unit}` : grouped(String(distance))),
        ]),
  ])
}

export function legend(frame: Frame, upper: number, height: number): Shape[] {
  if (frame.narrow)
    return [text('faint-text', 2, 14, 'by us, above'), text('faint-text', 2, height - 8, 'by others, below')]
  return [
    text('faint-text', 2, Math.max(14, upper - 120), 'Work by us stands above the line of dates,'),
    text('faint-text', 2, Math.max(31, upper - 103), 'with what failed.'),
    text('faint-text', 2, height - 38, 'Work by others hangs below'),
    text('faint-text', 2, height - 21, 'the line of distance.'),
  ]
}

import { path, type Shape, tenth, text } from './drawing.ts'
import type { Frame, Lines, Placed, TimeLineArc } from './time-line-parts.ts'

/** A confirmed cause arches over the line of dates, a suggested one under the line of distance, where there is room for it. */
export function arcs(all: TimeLineArc[], placed: Placed[], lines: Lines, frame: Frame): Shape[] {
  return all.flatMap(arc => {
    const from = placed.find(each => each.event.number === arc.from)
    const to = placed.find(each => each.event.number === arc.to)
    if (from === undefined || to === undefined) return []
    if (arc.is_confirmed) return [arch('ink-line', from.x, to.x, lines.upper, -1, frame)]
    const ends = [from.below ?? from.x, to.below ?? to.x] as const
    const bow = arch('guess', ends[0], ends[1], lines.lower, 1, frame)
    if (frame.narrow) return [bow]
    const words = text(
      'faint-text halo',
      (ends[0] + ends[1]) / 2,
      lines.lower + depth(ends, frame) + 18,
      'only the numbers suggest it',
      'middle',
    )
    return [bow, words]
  })
}

function depth([from, to]: readonly [number, number], frame: Frame): number {
  return Math.min(frame.narrow ? 52 : 108, 14 + Math.abs(to - from) * 0.36)
}

function arch(mark: string, from: number, to: number, y: number, side: 1 | -1, frame: Frame): Shape {
  const lean = (to - from) * 0.12
  // the curve reaches three quarters of the way to its control points
  const control = tenth(y + (side * depth([from, to], frame) * 4) / 3)
  return path(
    mark,
    `M${tenth(from)} ${y}C${tenth(from + lean)} ${control} ${tenth(to - lean)} ${control} ${tenth(to)} ${y}`,
  )
}

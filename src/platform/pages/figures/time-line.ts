import { circle, cross, type Drawing, line, type Shape, tenth, text } from './drawing.ts'
import { arcs } from './time-line-arcs.ts'
import { axisLine, dates, distances, legend, threads } from './time-line-axes.ts'
import { type Label, placeLabels } from './time-line-labels.ts'
import type { Frame, Lines, Placed, TimeLineInput } from './time-line-parts.ts'
import { dateAxis, distanceAxis } from './time-line-scales.ts'

/** Two parallel lines, dates above and distance below, a thread for each event; wide, and narrow with numbers only. */
export function timeLine(input: TimeLineInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

/** Whether one of its lines is broken, so that a part of it is not to scale. */
export function isBroken(input: TimeLineInput): boolean {
  return dateAxis(input, WIDE).isBroken || distanceAxis(input, WIDE).isBroken
}

const WIDE: Frame = {
  width: 1196,
  left: 2,
  right: 1194,
  apart: 140,
  suffix: '-wide',
  classes: 'very-wide-drawing',
  narrow: false,
  distanceTicks: 7,
  broken: 96,
}
const NARROW: Frame = {
  width: 350,
  left: 14,
  right: 338,
  apart: 150,
  suffix: '-narrow',
  classes: 'narrow-drawing of-very-wide',
  narrow: true,
  distanceTicks: 3,
  broken: 40,
}

function draw(input: TimeLineInput, frame: Frame): Drawing {
  const { id, title, description } = input
  const onDates = dateAxis(input, frame)
  const onDistance = distanceAxis(input, frame)
  const placed = input.events.map(event => ({
    event,
    x: onDates.placeOf(event),
    below: onDistance.placeOf(event),
  }))
  const above = placed.filter(hangsAbove).sort((one, other) => one.x - other.x)
  const beneath = placed.filter(each => !hangsAbove(each)).sort((one, other) => (one.below ?? 0) - (other.below ?? 0))
  const labels = {
    above: placeLabels(
      above.map(each => labelled(each, each.x, frame)),
      frame,
    ),
    beneath: placeLabels(
      beneath.map(each => labelled(each, each.below ?? each.x, frame)),
      frame,
    ),
  }
  const upper = frame.narrow ? 84 + 15 * Math.max(0, highest(labels.above) - 2) : 94 + 36 * highest(labels.above)
  const lower = upper + frame.apart
  const height =
    lower +
    (frame.narrow
      ? 84 + 15 * Math.max(0, highest(labels.beneath) - 1)
      : (beneath.length > 0 ? 114 : 90) + Math.max(44 * highest(labels.beneath), input.arcs.length > 0 ? 60 : 0))
  const lines = { upper, lower }
  const shapes = [
    ...threads(placed, lines),
    ...axisLine(onDates, upper, frame),
    ...axisLine(onDistance, lower, frame),
    ...dates(onDates, upper, frame),
    ...distances(onDistance, lower, input.unit, frame),
    ...arcs(input.arcs, placed, lines, frame),
    ...above.flatMap((each, place) => label(each, labels.above[place]!, upper, -1, frame)),
    ...beneath.flatMap((each, place) =>
      label(each, labels.beneath[place]!, each.below === null ? upper : lower, 1, frame),
    ),
    ...placed.flatMap(each => marks(each, lines)),
    ...legend(frame, height),
  ]
  return {
    id: `${id}${frame.suffix}`,
    title,
    description,
    width: frame.width,
    height: tenth(height),
    role: 'img',
    classes: frame.classes,
    shapes,
  }
}

/** What failed stands above with our work, whoever worked on it; others' work without a distance has no place below. */
function hangsAbove({ event, below }: Placed): boolean {
  return event.by !== 'others' || event.is_failure || below === null
}

function labelled({ event }: Placed, x: number, frame: Frame): { x: number; lines: string[] } {
  return { x, lines: frame.narrow ? [String(event.number)] : [`${event.number} ${event.label}`, event.note] }
}

function highest(labels: Label[]): number {
  return Math.max(0, ...labels.map(each => each.level))
}

function label({ event, x: onUpper, below }: Placed, placed: Label, y: number, side: 1 | -1, frame: Frame): Shape[] {
  if (placed.lines.length === 0) return []
  const x = side === -1 ? onUpper : (below ?? onUpper)
  if (frame.narrow) {
    return [
      text(
        'strong-text halo',
        placed.x,
        side === -1 ? y - 26 - 15 * placed.level : y + 34 + 15 * placed.level,
        String(event.number),
        'middle',
      ),
    ]
  }
  const first = side === -1 ? y - 46 - 36 * placed.level : y + 40 + 44 * placed.level
  const anchor = placed.side === 'left' ? ('end' as const) : null
  const at = placed.side === 'left' ? x - 6 : x + 6
  const stem = side === -1 ? line('hair', x, y - 9, x, first - 12) : line('hair', x, y + 18, x, first + 18)
  return [
    stem,
    ...placed.lines.map((words, row) =>
      text(row === 0 ? 'strong-text halo' : 'faint-text halo', at, first + 16 * row, words, anchor),
    ),
  ]
}

/** A ring where its life starts, a cross for a failure, otherwise a mark up for our work and down for others'. */
function marks({ event, x, below }: Placed, { upper, lower }: Lines): Shape[] {
  const both = [[x, upper] as const, ...(below === null ? [] : [[below, lower] as const])]
  if (event.by === 'start') return both.map(([at, y]) => circle('blank', at, y, 6))
  if (event.is_failure) return both.map(([at, y]) => cross(at, y))
  return both.map(([at, y]) => {
    const long = (event.by === 'us') === (y === upper) ? 20 : 12
    return line('cross', at, y, at, event.by === 'us' ? y - long : y + long)
  })
}

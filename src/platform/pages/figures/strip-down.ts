import { type Drawing, line, path, rect, roughWidth, type Shape, type Span, tenth, text } from './drawing.ts'
import { roundTicks, type Scale, straight, tickLabel } from './scale.ts'

/** A bar of the tree. A step comes before everything that hangs on it; list them in the order they are to be drawn. */
export interface StripDownBar {
  id: string
  /** The step that must be done first, by its id; null at the root. */
  after: string | null
  kind: 'step' | 'job'
  label: string
  /** Own hours. */
  hours: number
  /** '0.4 h, once for B C D'. */
  note: string
  /** '0.4 h BCD', for narrow screens. */
  short_note: string
}

interface Frame {
  width: number
  suffix: string
  classes: string
  narrow: boolean
}

const WIDE: Frame = { width: 760, suffix: '-wide', classes: 'wide-drawing', narrow: false }
const NARROW: Frame = { width: 350, suffix: '-narrow', classes: 'narrow-drawing', narrow: true }
const ROW = 32
const LEFT = 2
/** Of the width; the rest is for the words beside the last bars. */
const BARS = 0.92

/**
 * The strip-down tree: each bar is as long as its hours and begins where the step before it ends; filled bars are steps,
 * counted once, open ones the jobs' own hours. Throws RangeError when a bar hangs on one that does not stand before it.
 */
export function stripDown(input: { id: string; title: string; description: string; bars: StripDownBar[] }): Drawing[] {
  return [WIDE, NARROW].map(frame => ({
    id: `${input.id}${frame.suffix}`,
    title: input.title,
    description: input.description,
    width: frame.width,
    height: input.bars.length * ROW + 34,
    role: 'img',
    classes: frame.classes,
    shapes: shapesOf(input.bars, frame),
  }))
}

interface Laid {
  bar: StripDownBar
  start: number
  end: number
  row: number
}

function lay(bars: StripDownBar[]): Laid[] {
  const laid = new Map<string, Laid>()
  for (const [row, bar] of bars.entries()) {
    const before = bar.after === null ? null : laid.get(bar.after)
    if (before === undefined) throw new RangeError(`stripDown requires ${bar.after} to stand before ${bar.id}`)
    const start = before?.end ?? 0
    laid.set(bar.id, { bar, start, end: start + bar.hours, row })
  }
  return [...laid.values()]
}

function shapesOf(bars: StripDownBar[], frame: Frame): Shape[] {
  const laid = lay(bars)
  const longest = Math.max(0.5, ...laid.map(each => each.end))
  const x = straight(0, longest, LEFT, frame.width * BARS)
  const foot = bars.length * ROW + 8
  const ticks = roundTicks(0, longest, frame.narrow ? 4 : 6)
  const byId = new Map(laid.map(each => [each.bar.id, each]))
  return [
    ...ticks.flatMap((hours, place) => [
      line('ruled', x(hours), 4, x(hours), foot),
      place === 0
        ? text('faint-text', x(0), foot + 18, '0')
        : text('faint-text', x(hours), foot + 18, `${tickLabel(hours, ticks[1] ?? 1)} h`, 'middle'),
    ]),
    ...laid.flatMap(each => {
      const before = each.bar.after === null ? undefined : byId.get(each.bar.after)
      return before === undefined
        ? []
        : [path('ink-line', `M${tenth(x(before.end))} ${middle(before)}V${middle(each)}`)]
    }),
    ...laid.flatMap(each => oneBar(each, x, frame)),
  ]
}

const middle = ({ row }: Laid): number => row * ROW + 20

function oneBar(each: Laid, x: Scale, frame: Frame): Shape[] {
  const { bar, start, end } = each
  const y = middle(each)
  const isStep = bar.kind === 'step'
  // a step overlaps what joins it by a unit on either side, so that no gap shows
  const [left, right] = isStep ? [x(start) - 1, x(end) + 1] : [x(start), x(end)]
  const room = { left: left - 10, right: frame.width - right - 10 }
  const spans = wordsThatFit(bar, frame, Math.max(room.left, room.right))
  const onTheRight = widthOf(spans) <= room.right || room.right >= room.left
  const words = onTheRight ? text('halo', right + 8, y + 5, spans) : text('halo', left - 8, y + 5, spans, 'end')
  return [rect(isStep ? 'step-bar' : 'job-bar', left, y - 6, Math.max(2, right - left), 12), words]
}

/** Label and note; without the note where they are too long, and then cut: the table beside it has the whole of both. */
function wordsThatFit(bar: StripDownBar, frame: Frame, room: number): Span[] {
  const label = { words: bar.label, mark: 'strong-text' }
  const both = [label, { words: ` ${frame.narrow ? bar.short_note : bar.note}`, mark: 'faint-text' }]
  if (widthOf(both) <= room) return both
  const letters = Math.max(1, Math.floor(room / PER_CHARACTER) - 1)
  return bar.label.length <= letters ? [label] : [{ words: `${bar.label.slice(0, letters)}…`, mark: 'strong-text' }]
}

const PER_CHARACTER = 5.9

function widthOf(spans: Span[]): number {
  return roughWidth(spans.map(span => span.words).join(''), PER_CHARACTER)
}

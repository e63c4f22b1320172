import { circle, line, path, polyline, rect, type Shape, text } from './drawing.ts'
import type { JointFormat, JointInput } from './joint.ts'
import type { Place } from './joint-geometry.ts'

interface Surroundings {
  joint: JointInput
  format: JointFormat
  width: number
  /** Height of the joint itself; what does not fit into it stands at its foot. */
  body: number
  perMm: number
  circle: { centre: Place; radius: number } | null
  /** The places in tightening order. */
  path: Place[]
  datum: Place[]
}

/** Everything of a joint but its heads: outline, order path, bore, datum, scale, and which way it faces. */
export function jointSurroundings(given: Surroundings): { shapes: Shape[]; bottom: number } {
  const { joint, format, circle: round } = given
  const bore =
    joint.bore_mm !== undefined && round !== null ? { ...round.centre, r: (joint.bore_mm / 2) * given.perMm } : null
  const scaleInBore = bore !== null && bore.r > shortestBar(format) / 2 + 10
  const foot = given.body - edgeOf(given) + 26
  const isScaled = given.path.length > 1 && joint.unscaled !== true
  const bar = isScaled ? scaleBar(given, scaleInBore ? bore : null, foot) : []
  const hasFoot = (bar.length > 0 && !scaleInBore) || joint.faces !== undefined || format.turned
  return {
    bottom: hasFoot ? foot + 16 : 0,
    shapes: [
      round === null
        ? boxAround(given)
        : circle('outline', round.centre.x, round.centre.y, round.radius + format.margin - edgeOf(given)),
      ...(given.path.length > 1 ? [path('order-path', polyline(given.path.map(({ x, y }) => [x, y] as const)))] : []),
      ...(bore === null ? [] : [circle('bore', bore.x, bore.y, bore.r)]),
      ...(round === null ? [] : [circle('ruled', round.centre.x, round.centre.y, round.radius)]),
      ...given.datum.flatMap(place => datumMark(place, joint.datum?.label ?? '', format)),
      ...bar,
      ...facing(given, foot),
    ],
  }
}

/** Between the edge of the drawing and the outline of the joint. */
function edgeOf({ circle: round, format }: Surroundings): number {
  return round === null ? format.margin - format.head * 1.6 : 18
}

function shortestBar(format: JointFormat): number {
  return format.head * 1.65
}

function boxAround(given: Surroundings): Shape {
  const { path: places, format, width, body } = given
  // a number of two digits stands out further beside its head
  const room = format.head * (places.length < 10 ? 1.6 : 2.1)
  const left = Math.max(4, Math.min(...places.map(place => place.x)) - room)
  const top = edgeOf(given)
  return rect('outline', left, top, width - 2 * left, body - 2 * top, 26)
}

function datumMark({ x, y }: Place, label: string, format: JointFormat): Shape[] {
  const r = format.head * 0.28
  return [
    circle('hair', x, y, r),
    line('hair', x - r * 1.8, y, x + r * 1.8, y),
    line('hair', x, y - r * 1.8, x, y + r * 1.8),
    text(`${format.words} halo`, x + r * 1.4, y - r * 0.9, label),
  ]
}

/** A bar of a round number of mm, in the bore when it is roomy, otherwise at the foot. */
function scaleBar({ perMm, width, format }: Surroundings, bore: Place | null, foot: number): Shape[] {
  const mm = roundLength(shortestBar(format) / perMm)
  const long = mm * perMm
  const middle = bore ?? { x: Math.min(format.margin + long / 2, width / 2), y: foot - 6 }
  const [left, right, y] = [middle.x - long / 2, middle.x + long / 2, middle.y + 6]
  const words = `${mm} mm`
  return [
    line('ink-line', left, y, right, y),
    line('ink-line', left, y - 6, left, y + 6),
    line('ink-line', right, y - 6, right, y + 6),
    bore ? text(format.words, middle.x, y - 14, words, 'middle') : text(format.words, right + 10, y + 5, words),
  ]
}

/** The next 1, 2 or 5 times a power of ten that is not shorter. */
function roundLength(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least))
  return [1, 2, 5, 10].map(step => step * power).find(length => length >= least - 1e-9) ?? 10 * power
}

/** What lies to the right, with an arrow drawn: the typeface has none. Turned upright, it lies below. */
function facing({ joint, format, width }: Surroundings, foot: number): Shape[] {
  // without a word for its sides, what is said of left and right elsewhere must still be found on it
  if (joint.faces === undefined)
    return format.turned ? [text(format.words, width - 10, foot + 5, 'turned: left end at the top', 'end')] : []
  const x = width - format.margin
  const y = foot + 5
  const arrow = format.turned
    ? `M${x} ${y - 14}V${y}M${x - 5} ${y - 6}L${x} ${y}L${x + 5} ${y - 6}`
    : `M${x - 7} ${y - 5}H${x + 9}M${x + 3} ${y - 10}L${x + 9} ${y - 5}L${x + 3} ${y}`
  return [text(format.words, x - 14, y, joint.faces, 'end'), path('hair', arrow)]
}

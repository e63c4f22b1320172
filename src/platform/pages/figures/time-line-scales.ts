import { type Scale, straight } from './scale.ts'
import { dayOf, type Frame, scaledFrom, type TimeLineEvent, type TimeLineInput } from './time-line-parts.ts'

/** One of the two lines: to scale from where it is broken, or all of it. */
export interface Axis {
  scale: Scale
  isBroken: boolean
  /** Where its part that is to scale begins, in units of the drawing. */
  begins: number
}

export interface DateAxis extends Axis {
  years: number[]
  placeOf(event: TimeLineEvent): number
}

export interface DistanceAxis extends Axis {
  /** The least and the greatest distance to scale. */
  near: number
  far: number
  placeOf(event: TimeLineEvent): number | null
}

/** The upper line. What began before the break stands in the middle of what is left for it. */
export function dateAxis(input: TimeLineInput, frame: Frame): DateAxis {
  const isBroken = scaledFrom(input) !== null
  const toScale = isBroken ? input.events.filter(event => event.by !== 'start') : input.events
  const all = [...toScale.map(event => event.on), input.until].map(on => Number(on.slice(0, 4)))
  const first = Math.min(...all)
  const years = Array.from({ length: Math.max(...all) - first + 1 }, (_, place) => first + place)
  const begins = isBroken ? frame.left + frame.broken : frame.left
  const scale = straight(dayOf(`${first}-01-01`), dayOf(`${years.at(-1)! + 1}-01-01`), begins, frame.right)
  const placeOf = (event: TimeLineEvent) =>
    isBroken && event.by === 'start' ? beforeBreak(frame) : scale(dayOf(event.on))
  return { scale, isBroken, begins, years, placeOf }
}

/** The lower line, from nothing; broken where all that is known lies in its farther half. */
export function distanceAxis({ events, farthest: read = 0 }: TimeLineInput, frame: Frame): DistanceAxis {
  const known = events.flatMap(({ by, distance }) => (by === 'start' || distance === null ? [] : [distance]))
  const farthest = Math.max(1, read, ...events.map(event => event.distance ?? 0))
  const nearest = Math.min(farthest, ...known)
  const isBroken = known.length > 0 && nearest > farthest / 2
  const span = isBroken ? Math.max(farthest - nearest, farthest / 10) : farthest
  const near = isBroken ? farthest - span * 1.05 : 0
  const far = farthest + span * 0.09
  const begins = frame.left + (isBroken ? frame.broken : (frame.right - frame.left) * 0.048)
  const scale = straight(near, far, begins, frame.right)
  const placeOf = ({ by, distance }: TimeLineEvent) =>
    distance === null ? null : isBroken && by === 'start' ? beforeBreak(frame) : scale(distance)
  return { scale, isBroken, begins, near, far, placeOf }
}

function beforeBreak(frame: Frame): number {
  return frame.left + frame.broken / 3
}

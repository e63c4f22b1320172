export interface TimeLineEvent {
  /** As in the table beneath, oldest first. */
  number: number
  /** Calendar date, YYYY-MM-DD; an event without one cannot be placed. */
  on: string
  /** Distance at the event in the workshop's unit, or null when nobody wrote it down: then it stands on the upper line only. */
  distance: number | null
  /** Who did it: our work stands above, others' hangs below; the start of its life is a ring. */
  by: 'us' | 'others' | 'start'
  is_failure: boolean
  label: string
  /** The second line, smaller: date and distance, or who. */
  note: string
}

export interface TimeLineArc {
  /** Numbers of the earlier work and of the failure it was followed by. */
  from: number
  to: number
  /** A finding says so: solid. Only the numbers suggest it: dashed. */
  is_confirmed: boolean
}

export interface TimeLineInput {
  id: string
  title: string
  description: string
  /** 'km' or 'mi'. */
  unit: string
  /** Until when the upper line runs, YYYY-MM-DD. */
  until: string
  /** The greatest distance that is known of it, where none of the events has it. */
  farthest?: number
  events: TimeLineEvent[]
  arcs: TimeLineArc[]
}

/** One of the two drawings. */
export interface Frame {
  width: number
  left: number
  right: number
  /** Between the two lines. */
  apart: number
  suffix: string
  classes: string
  /** Numbers only. */
  narrow: boolean
  distanceTicks: number
  /** How much of the upper line stands for what lies before the break, where it is broken. */
  broken: number
}

/** An event with its two places. */
export interface Placed {
  event: TimeLineEvent
  /** On the upper line. */
  x: number
  /** On the lower line, where its distance is known. */
  below: number | null
}

/**
 * The event from which on the upper line is to scale, where most of it would be empty otherwise: its life began long before
 * anything else is known of it. Null where all of it is to scale.
 */
export function scaledFrom({ events, until }: Pick<TimeLineInput, 'events' | 'until'>): TimeLineEvent | null {
  const [start, first] = [...events].sort((one, other) => dayOf(one.on) - dayOf(other.on))
  if (start?.by !== 'start' || first === undefined) return null
  const unknown = dayOf(first.on) - dayOf(start.on)
  return unknown > (dayOf(until) - dayOf(start.on)) / 2 ? first : null
}

/** Heights of the two lines. */
export interface Lines {
  upper: number
  lower: number
}

/** Days since 1970-01-01, read from the text alone: no zone, no clock. */
export function dayOf(on: string): number {
  const day = Date.parse(`${on}T00:00:00Z`) / 86_400_000
  if (!/^\d{4}-\d\d-\d\d$/.test(on) || Number.isNaN(day))
    throw new RangeError(`timeLine requires calendar dates such as 2031-11-04, not ${on}`)
  return day
}

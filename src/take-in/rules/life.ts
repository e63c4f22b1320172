import type { CalendarDate } from '../../core/calendar.ts'
import type { Doer } from '../../core/vocabulary.ts'

/** One event as the history tells it, with what a finding names as its cause. */
export interface EventToTell {
  record_id: string
  /** What the history calls it: `comeback_of` of another event names it so. */
  id: string
  date: CalendarDate | null
  distance: number | null
  event: 'in_service' | 'seen' | 'work' | 'failure'
  by: Doer | null
  operation: string | null
  component: string | null
  comeback_of: string | null
  /** The record of the earlier work that a person says caused it. */
  caused_by: string | null
}

export interface ToldEvent<Event extends EventToTell = EventToTell> {
  event: Event
  /** As on the drawing; null for a reading and for what nobody can date. */
  number: number | null
  /** The distance of the event, else what was read on the same day. */
  distance: number | null
}

export interface Arc {
  from: number
  to: number
  is_confirmed: boolean
  /** Where the decision is read that says so; without one a finding or an imported history does. */
  decided_at?: string
}

/**
 * Numbers the dated events that are drawn, oldest first; readings stand in the table only, and there only where they say what
 * no other event of the day says.
 */
export function toldLife<Event extends EventToTell>(events: readonly Event[]): ToldEvent<Event>[] {
  const read = new Map<string, number>()
  for (const { date, distance } of events) if (date !== null && distance !== null) read.set(date, distance)
  const distanceOf = ({ date, distance }: Event) => distance ?? (date === null ? null : (read.get(date) ?? null))
  const said = new Set(
    events.filter(event => event.event !== 'seen').map(event => `${event.date} ${distanceOf(event)}`),
  )
  let count = 0
  return events.flatMap(event => {
    const distance = distanceOf(event)
    const key = `${event.date} ${distance}`
    if (event.event !== 'seen') return [{ event, number: event.date === null ? null : ++count, distance }]
    if (said.has(key)) return []
    said.add(key)
    return [{ event, number: null, distance }]
  })
}

/** A comeback that a person confirmed: the records of the earlier work and of the later event, and where it is read. */
export interface CameBack {
  earlier: string
  later: string
  href: string
}

type Numbered = ToldEvent & { number: number }

/**
 * What followed what: solid where a person says so (a finding's cause, a confirmed comeback), dashed where only the numbers
 * suggest it: the latest earlier work that is often followed by that failure.
 *
 * @param oftenAfter whether work of this name is often followed by failure of a component of that name.
 */
export function arcsOf(
  told: readonly ToldEvent[],
  oftenAfter: (operation: string, component: string) => boolean,
  cameBack: readonly CameBack[] = [],
): Arc[] {
  const numbered = told.filter((each): each is Numbered => each.number !== null)
  return numbered.flatMap(({ event, number }): Arc[] => {
    const said = saidBefore(event, numbered, cameBack)
    if (said.length > 0) {
      const arcs = said.flatMap(({ from, href }): Arc[] =>
        from < number
          ? [{ from, to: number, is_confirmed: true, ...(href !== undefined && { decided_at: href }) }]
          : [],
      )
      return arcs.filter((arc, place) => arcs.findIndex(({ from }) => from === arc.from) === place)
    }
    if (event.event !== 'failure' || event.component === null) return []
    const { component, date } = event
    const before = numbered.findLast(
      ({ event: work }) =>
        work.event === 'work' &&
        work.operation !== null &&
        (work.date ?? '') < (date ?? '') &&
        oftenAfter(work.operation, component),
    )
    return before === undefined ? [] : [{ from: before.number, to: number, is_confirmed: false }]
  })
}

/** The earlier events that people name: the cause in a finding first, then comebacks, imported and decided. */
function saidBefore(
  { record_id, caused_by, comeback_of }: EventToTell,
  numbered: readonly Numbered[],
  cameBack: readonly CameBack[],
): { from: number; href?: string }[] {
  const named = (is: (other: EventToTell) => boolean, href?: string) =>
    numbered
      .filter(({ event }) => is(event))
      .map(({ number }) => ({ from: number, ...(href !== undefined && { href }) }))
  return [
    ...named(other => other.record_id === caused_by),
    ...named(other => comeback_of !== null && other.id === comeback_of),
    ...cameBack.flatMap(({ earlier, later, href }) =>
      later === record_id ? named(other => other.record_id === earlier, href) : [],
    ),
  ]
}

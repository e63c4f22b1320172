import { type MeanCumulativeFunction, meanCumulativeFunction, type RecurrenceUnit } from './mean-cumulative-function.ts'

/** The units as they are between two ages. */
export function within(units: readonly RecurrenceUnit[], from: number, until: number): RecurrenceUnit[] {
  return units.flatMap(({ entry, end, events }) => {
    if (entry >= until || end <= from) return []
    const last = Math.min(end, until)
    return [{ entry: Math.max(entry, from), end: last, events: events.filter(age => age <= last) }]
  })
}

/** The ages between which enough units are watched, and the curve of what happened between them. */
export interface WellWatched extends MeanCumulativeFunction {
  from: number
  until: number
}

/**
 * The longest span of ages at each of which at least so many units are at risk (entry < t <= end), the earliest of equal ones,
 * with the mean cumulative function counted from its beginning: a curve that few units carried before says nothing there. Null
 * where there is no such age.
 */
export function wellWatched(units: readonly RecurrenceUnit[], least: number): WellWatched | null {
  const span = longestSpan(units, least)
  if (span === null) return null
  return { ...span, ...meanCumulativeFunction(within(units, span.from, span.until)) }
}

function longestSpan(units: readonly RecurrenceUnit[], least: number): { from: number; until: number } | null {
  const changes = units
    .filter(({ entry, end }) => entry < end)
    .flatMap(({ entry, end }) => [
      { at: entry, by: 1 },
      { at: end, by: -1 },
    ])
    .sort((one, other) => one.at - other.at || other.by - one.by)
  let [watched, from] = [0, 0]
  let longest: { from: number; until: number } | null = null
  for (const { at, by } of changes) {
    const before = watched
    watched += by
    if (before < least && watched >= least) from = at
    const ends = before >= least && watched < least
    if (ends && at > from && (longest === null || at - from > longest.until - longest.from))
      longest = { from, until: at }
  }
  return longest
}

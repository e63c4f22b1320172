import { addDays, type CalendarDate, startOfDayMs } from '../calendar.ts'
import type { CalibrationResult } from '../vocabulary.ts'

/** A check of a wrench or a gauge. `made_on` is a calendar day; recording parts two of one day: time, then id. */
export interface Check {
  id: string
  made_on: CalendarDate
  created_at: number
  found: CalibrationResult
}

/** What speaks against an instrument, in its place among the checks: a check that found it outside, a drop. */
export interface Incident {
  id: string
  on: CalendarDate
  created_at: number
}

function isBefore(check: Check, incident: Incident): boolean {
  if (check.made_on !== incident.on) return check.made_on < incident.on
  return check.created_at < incident.created_at || (check.created_at === incident.created_at && check.id < incident.id)
}

function inOrder(one: Check, other: Check): number {
  return one.made_on.localeCompare(other.made_on) || one.created_at - other.created_at || (one.id < other.id ? -1 : 1)
}

/** The last check before an incident that found the instrument good: then it was last known good; null when it never was. */
export function lastGoodBefore<T extends Check>(checks: readonly T[], incident: Incident): T | null {
  const before = checks.filter(check => check.found === 'good' && isBefore(check, incident))
  return before.toSorted(inOrder).at(-1) ?? null
}

/** The first check after an incident that found it good again; null while there is none. One of the same day that was recorded later counts. */
export function firstGoodAfter<T extends Check>(checks: readonly T[], incident: Incident): T | null {
  const after = checks.filter(check => check.found === 'good' && check.id !== incident.id && !isBefore(check, incident))
  return after.toSorted(inOrder)[0] ?? null
}

/** Whether an incident of that day or before still speaks against the instrument on a day: no check up to then has found it good since. */
export function standsOn(checks: readonly Check[], incident: Incident, day: CalendarDate): boolean {
  if (incident.on > day) return false
  return (
    firstGoodAfter(
      checks.filter(check => check.made_on <= day),
      incident,
    ) === null
  )
}

/**
 * The readings that an incident puts in doubt, in milliseconds: those made from `from` up to, not including, `until`. From
 * `judged_from` on a reading that was recorded after the incident was known has been judged by it and needs no doubt.
 */
export interface DoubtedSpan {
  from: number
  judged_from: number
  until: number
}

/** Before and after everything that was ever recorded, as SQLite can compare it. */
export const EVER = { from: -8.64e15, until: 8.64e15 } as const

/**
 * What an instrument touched that a check found outside: everything since the last good check before it, until it was good
 * again (ISO 10012; ISO 9001, 7.1.5.2). Checks are known by their day, so the days at both ends count whole.
 */
export function spanOfOutside(checks: readonly Check[], incident: Incident, timeZone: string): DoubtedSpan {
  const good = lastGoodBefore(checks, incident)
  return {
    from: good === null ? EVER.from : startOfDayMs(good.made_on, timeZone),
    judged_from: startOfDayMs(incident.on, timeZone),
    until: endOfDoubt(checks, incident, timeZone),
  }
}

/**
 * What a wrench touched after a drop or an overload at a known time, until it was good again: before it, nothing speaks
 * against it. Null when a check of a later day was good before anybody wrote of the drop: then it was last known good after it.
 */
export function spanOfDrop(
  checks: readonly Check[],
  drop: Incident & { at: number },
  timeZone: string,
): DoubtedSpan | null {
  const isKnownGoodSince = checks.some(
    check => check.found === 'good' && check.made_on > drop.on && check.created_at < drop.created_at,
  )
  if (isKnownGoodSince) return null
  return { from: drop.at, judged_from: drop.at, until: endOfDoubt(checks, drop, timeZone) }
}

function endOfDoubt(checks: readonly Check[], incident: Incident, timeZone: string): number {
  const good = firstGoodAfter(checks, incident)
  return good === null ? EVER.until : startOfDayMs(addDays(good.made_on, 1), timeZone)
}

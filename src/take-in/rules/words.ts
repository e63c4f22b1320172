import type { CalendarDate } from '../../core/calendar.ts'
import { longDay, monthOfYear } from '../../core/days.ts'
import { fromSi } from '../../core/quantities.ts'
import type { Doer, Exactness, OdometerUnit, WorkOrderState } from '../../core/vocabulary.ts'

/** A day that may be known roughly, after "done": on 12 February 2029, in February 2029, in 2029. */
export function whenInWords(on: CalendarDate | null, exactness: Exactness): string {
  if (on === null || exactness === 'unknown') return 'at a time that nobody knows'
  if (exactness === 'year') return `in ${on.slice(0, 4)}`
  return exactness === 'month' ? `in ${monthOfYear(on)}` : `on ${longDay(on)}`
}

/** A distance in the unit that the vehicle's odometer shows, grouped: 143 720 km. */
export function distanceInWords(km: number, unit: OdometerUnit): string {
  return `${grouped(Math.round(fromSi(km, unit)))}\u00a0${unit}`
}

/** Digits in threes, with spaces that do not break. */
export function grouped(value: number): string {
  return String(value).replace(/\B(?=(\d{3})+$)/g, '\u00a0')
}

/** Whoever did it, after "by". Another workshop is never named. */
export const DOER_WORDS: Record<Doer, string> = {
  us: 'us',
  other: 'another workshop',
  owner: 'the owner',
  unknown: 'somebody unknown',
}

export const STATE_WORDS: Record<WorkOrderState, string> = {
  taken_in: 'taken in',
  agreed: 'agreed',
  in_work: 'in work',
  ready: 'ready',
  handed_back: 'handed back',
}

/** The first letter small, unless the word goes on in capitals: "ABS ring" stays. */
export function inText(words: string): string {
  return /^\p{Lu}(?!\p{Lu}|\p{N})/u.test(words) ? words.charAt(0).toLowerCase() + words.slice(1) : words
}

/** "a", "a and b", "a, b and c". */
export function listed(items: readonly string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`
}

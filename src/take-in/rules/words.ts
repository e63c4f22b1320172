import type { CalendarDate } from '../../core/calendar.ts'
import { longDay, monthOfYear } from '../../core/days.ts'
import type { Doer, Exactness, WorkOrderState } from '../../core/vocabulary.ts'

/** A day that may be known roughly, after "done": on 12 February 2029, in February 2029, in 2029. */
export function whenInWords(on: CalendarDate | null, exactness: Exactness): string {
  if (on === null || exactness === 'unknown') return 'at a time that nobody knows'
  if (exactness === 'year') return `in ${on.slice(0, 4)}`
  return exactness === 'month' ? `in ${monthOfYear(on)}` : `on ${longDay(on)}`
}

/** Whoever did it, after "by". Another workshop is never named. */
export const DOER_WORDS: Record<Doer, string> = {
  us: 'us',
  other: 'another workshop',
  owner: 'the owner',
  unknown: 'somebody unknown',
}

/** Offered where a talk is written down; any other may be typed. */
export const WAYS_OF_TALKING = ['At the desk', 'By telephone', 'By message']

export const STATE_WORDS: Record<WorkOrderState, string> = {
  taken_in: 'taken in',
  agreed: 'agreed',
  in_work: 'in work',
  ready: 'ready',
  handed_back: 'handed back',
}

import { addDays, addMonths, type CalendarDate, monthBounds, monthOf } from '../../core/calendar.ts'

const MONTH = /^\d{4}-(?:0[1-9]|1[0-2])$/
const FIRST_MONTH = '1900-01'

/** What is wrong with a month that somebody asked for, in words; null when it can be reviewed. */
export function monthFault(month: string, today: CalendarDate): string | null {
  if (!MONTH.test(month)) return `A month is written as YYYY-MM, as ${monthOf(today)}.`
  if (month < FIRST_MONTH) return `The months to review begin with ${FIRST_MONTH}.`
  return month > monthOf(today) ? 'This month has not begun. Ask for one that has, or for the one that runs.' : null
}

/** What is wrong with the day on which it is to be known, in words; null when nothing is. */
export function knownOnFault(day: CalendarDate, month: string, today: CalendarDate): string | null {
  if (day > today) return 'This day lies in the future. Give one that has come.'
  return day < monthBounds(month).first ? 'The month had not begun on this day. Give a later one.' : null
}

/** Whether the month still runs. */
export function monthRuns(month: string, today: CalendarDate): boolean {
  return monthBounds(month).last >= today
}

/** The last day of the month, or today while it runs. */
export function knownOnAtFirst(month: string, today: CalendarDate): CalendarDate {
  const { last } = monthBounds(month)
  return last < today ? last : today
}

/** The first day of the twelve months to the end of a month. */
export function yearTo(month: string): CalendarDate {
  return monthBounds(monthsTo(month, 11)[0] ?? month).first
}

/** The month and as many before it, oldest first. */
export function monthsTo(month: string, before: number): string[] {
  const { first } = monthBounds(month)
  return Array.from({ length: before + 1 }, (_, place) => monthOf(addMonths(first, place - before)))
}

/** How many of the twelve months before a month the workshop has had work of its own on record; 0 without any. */
export function monthsOnRecord(month: string, earliest: CalendarDate | null): number {
  if (earliest === null) return 0
  const began = monthOf(earliest)
  return monthsTo(month, 12).filter(each => each < month && each >= began).length
}

/** The month after. */
export function nextMonth(month: string): string {
  return monthOf(addDays(monthBounds(month).last, 1))
}

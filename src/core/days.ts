import { type CalendarDate, dayNumber } from './calendar.ts'
import type { Exactness } from './vocabulary.ts'

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
]

function parts(day: CalendarDate): { year: string; month: string; date: string } {
  const [year = '', month = '', date = ''] = day.split('-')
  return { year, month: MONTHS[Number(month) - 1] ?? '', date: String(Number(date)) }
}

/** The name of a month from 1 to 12. */
export function monthName(month: number): string {
  return MONTHS[month - 1] ?? ''
}

/** A day in a sentence: 4 November 2031. */
export function longDay(day: CalendarDate): string {
  const { year, month, date } = parts(day)
  return `${date} ${month} ${year}`
}

/** A day in a table: 4 Nov 2031. */
export function shortDay(day: CalendarDate): string {
  const { year, month, date } = parts(day)
  return `${date} ${month.slice(0, 3)} ${year}`
}

const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday']

/** With its weekday: Tuesday 4 November 2031. */
export function weekdayAndDay(day: CalendarDate): string {
  // 1 January 1970 was a Thursday
  return `${WEEKDAYS[(((dayNumber(day) + 4) % 7) + 7) % 7]} ${longDay(day)}`
}

/** A month in a sentence: February 2029. */
export function monthOfYear(day: CalendarDate): string {
  const { year, month } = parts(day)
  return `${month} ${year}`
}

/** A day known so well: 4 November 2031, about June 2031, about 2031, undated. */
export function roughDay(day: CalendarDate | null | undefined, exactness: Exactness): string {
  if (day == null || exactness === 'unknown') return 'undated'
  if (exactness === 'year') return `about ${parts(day).year}`
  return exactness === 'month' ? `about ${monthOfYear(day)}` : longDay(day)
}

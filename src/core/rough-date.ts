import { type CalendarDate, isCalendarDate } from './calendar.ts'
import { monthName } from './days.ts'
import type { Exactness } from './vocabulary.ts'

const MONTH = /^(\d{4})-(\d{1,2})$/
const MONTH_FIRST = /^(\d{1,2})[/.](\d{4})$/
const NAMED_MONTH = /^([a-z]{3,9})\.? (\d{4})$/i
const YEAR = /^\d{4}$/

/**
 * The day on which something roughly dated stands: a month on its 15th, a year on 1 July. Null when the text is none of a day
 * (`2029-02-12`), a month (`2029-02`, `02/2029`, `2.2029`, `February 2029`, `Feb 2029`) and a year (`2029`).
 */
export function roughDate(text: string): { on: CalendarDate; exactness: Exclude<Exactness, 'unknown'> } | null {
  if (isCalendarDate(text)) return { on: text, exactness: 'day' }
  if (YEAR.test(text)) return { on: `${text}-07-01`, exactness: 'year' }
  const month = monthOf(text)
  return month === null ? null : { on: `${month}-15`, exactness: 'month' }
}

/** YYYY-MM, or null. */
function monthOf(text: string): string | null {
  const [, year, number] = MONTH.exec(text) ?? []
  if (year !== undefined) return inYear(year, Number(number))
  const [, first, ofYear] = MONTH_FIRST.exec(text) ?? []
  if (ofYear !== undefined) return inYear(ofYear, Number(first))
  const [, name, named] = NAMED_MONTH.exec(text) ?? []
  if (name === undefined || named === undefined) return null
  const months = Array.from({ length: 12 }, (_, at) => monthName(at + 1).toLowerCase())
  return inYear(named, months.findIndex(month => month.startsWith(name.toLowerCase())) + 1)
}

function inYear(year: string, month: number): string | null {
  return month >= 1 && month <= 12 ? `${year}-${String(month).padStart(2, '0')}` : null
}

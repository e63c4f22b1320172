import { Temporal } from 'temporal-polyfill'

/** A day on the proleptic Gregorian calendar without time or zone, as text: `YYYY-MM-DD`. */
export type CalendarDate = string

const DATE = /^\d{4}-\d{2}-\d{2}$/
const MONTH = /^\d{4}-(?:0[1-9]|1[0-2])$/
/** Days from 1 March of year 0 to 1 January 1970. */
const DAYS_TO_EPOCH = 719_468
const DAYS_IN_400_YEARS = 146_097

/** Days since 1970-01-01 of a civil date; years are counted from 1 March so that the leap day comes last. */
function daysFromCivil(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year
  const era = Math.floor(y / 400)
  const yearOfEra = y - era * 400
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear
  return era * DAYS_IN_400_YEARS + dayOfEra - DAYS_TO_EPOCH
}

function daysInMonth(year: number, month: number): number {
  if (month !== 2) return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28
}

function pad(value: number, width: number): string {
  return String(value).padStart(width, '0')
}

/** Two or four digits of `text`, or a number below zero when one of them is none. */
function digits(text: string, from: number, to: number): number {
  let value = 0
  for (let i = from; i < to; i++) {
    const digit = text.charCodeAt(i) - 48
    if (!(digit >= 0 && digit <= 9)) return -1
    value = value * 10 + digit
  }
  return value
}

/**
 * Days from 1970-01-01 to a calendar date (negative before). Written out by hand, without a date object or a pattern,
 * because an import and an analysis ask for it a million times.
 *
 * Source: the era arithmetic of Howard Hinnant, "chrono-compatible low-level date algorithms" (2013).
 *
 * @throws RangeError when the text is not a day that exists, as 2031-02-30.
 * @example dayNumber('1970-01-02') // 1
 */
export function dayNumber(date: CalendarDate): number {
  const year = digits(date, 0, 4)
  const month = digits(date, 5, 7)
  const day = digits(date, 8, 10)
  const wellFormed = date.length === 10 && date.charCodeAt(4) === 45 && date.charCodeAt(7) === 45
  if (!wellFormed || year < 0 || month < 1 || month > 12 || day < 1 || day > daysInMonth(year, month)) {
    throw new RangeError('dayNumber requires a day that exists, as YYYY-MM-DD')
  }
  return daysFromCivil(year, month, day)
}

/** Whether a text is a calendar date that exists: `2028-02-29` is one, `2031-02-30` and `2031-2-3` are not. */
export function isCalendarDate(text: string): boolean {
  if (!DATE.test(text)) return false
  const month = digits(text, 5, 7)
  const day = digits(text, 8, 10)
  return month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(digits(text, 0, 4), month)
}

/**
 * The calendar date that lies `days` days after 1970-01-01: the inverse of `dayNumber`.
 *
 * @throws RangeError when `days` is not whole or the year would not have four digits.
 * @example dateOfDay(0) // '1970-01-01'
 */
export function dateOfDay(days: number): CalendarDate {
  if (!Number.isInteger(days)) throw new RangeError('dateOfDay requires a whole number of days')
  const shifted = days + DAYS_TO_EPOCH
  const era = Math.floor(shifted / DAYS_IN_400_YEARS)
  const dayOfEra = shifted - era * DAYS_IN_400_YEARS
  const leapDays = Math.floor(dayOfEra / 1460) - Math.floor(dayOfEra / 36_524) + Math.floor(dayOfEra / 146_096)
  const yearOfEra = Math.floor((dayOfEra - leapDays) / 365)
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100))
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153)
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9
  const year = era * 400 + yearOfEra + (month <= 2 ? 1 : 0)
  if (year < 0 || year > 9999) throw new RangeError('dateOfDay requires a day in the years 0000 to 9999')
  return `${pad(year, 4)}-${pad(month, 2)}-${pad(dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1, 2)}`
}

/** Days from one date to a later one; negative when the second is the earlier. */
export function daysBetween(from: CalendarDate, to: CalendarDate): number {
  return dayNumber(to) - dayNumber(from)
}

/** The date `days` days later (earlier when negative). */
export function addDays(date: CalendarDate, days: number): CalendarDate {
  return dateOfDay(dayNumber(date) + days)
}

/** The month a date lies in: `2031-02-28` gives `2031-02`. */
export function monthOf(date: CalendarDate): string {
  return dateOfDay(dayNumber(date)).slice(0, 7)
}

/** The first and the last day of a month given as `YYYY-MM`. */
export function monthBounds(month: string): { first: CalendarDate; last: CalendarDate } {
  if (!MONTH.test(month)) throw new RangeError('monthBounds requires a month as YYYY-MM')
  return { first: `${month}-01`, last: `${month}-${daysInMonth(digits(month, 0, 4), digits(month, 5, 7))}` }
}

/**
 * The same day a number of months later; where that month is shorter, its last day.
 *
 * @example addMonths('2031-01-31', 1) // '2031-02-28'
 */
export function addMonths(date: CalendarDate, months: number): CalendarDate {
  dayNumber(date) // refuses a day that does not exist: the arithmetic below would carry it over silently
  if (!Number.isInteger(months)) throw new RangeError('addMonths requires a whole number of months')
  const count = digits(date, 0, 4) * 12 + digits(date, 5, 7) - 1 + months
  const year = Math.floor(count / 12)
  const month = count - year * 12 + 1
  return dateOfDay(daysFromCivil(year, month, Math.min(digits(date, 8, 10), daysInMonth(year, month))))
}

/** The first motor vehicle ran in 1885: what is dated before happened to none, and its year is a slip, such as 0026 for 2026. */
const FIRST_DAY_OF_MOTORING: CalendarDate = '1885-01-01'

/** Whether there were motor vehicles on a day that exists. */
export function isSinceMotoring(date: CalendarDate): boolean {
  return date >= FIRST_DAY_OF_MOTORING
}

const MOST_KEPT = 10_000
/** By place and second: clocks are put forward or back on a whole second. */
const offsets = new Map<string, number>()
/** By place and day. */
const dayStarts = new Map<string, number>()

/** What the clock on the wall of a place is ahead of UTC at an instant, in ms; pages ask for the same instants again and again. */
function offsetMs(instantMs: number, timeZone: string): number {
  const key = `${timeZone} ${Math.floor(instantMs / 1000)}`
  const known = offsets.get(key)
  if (known !== undefined) return known
  const zoned = Temporal.Instant.fromEpochMilliseconds(instantMs).toZonedDateTimeISO(timeZone)
  const offset = zoned.offsetNanoseconds / 1e6
  if (offsets.size === MOST_KEPT) offsets.clear()
  offsets.set(key, offset)
  return offset
}

/** The calendar date on the wall of a place (IANA zone name) at an instant in milliseconds since 1970 UTC. */
export function localDateOf(instantMs: number, timeZone: string): CalendarDate {
  return new Date(instantMs + offsetMs(instantMs, timeZone)).toISOString().slice(0, 10)
}

/** The time on the wall of a place at an instant, to the minute: `HH:MM`. */
export function localTimeOf(instantMs: number, timeZone: string): string {
  return new Date(instantMs + offsetMs(instantMs, timeZone)).toISOString().slice(11, 16)
}

/** The instant, in milliseconds since 1970 UTC, at which a day begins in a place: midnight, or later where it is skipped. */
export function startOfDayMs(date: CalendarDate, timeZone: string): number {
  const key = `${timeZone} ${date}`
  const known = dayStarts.get(key)
  if (known !== undefined) return known
  const start = Temporal.PlainDate.from(date).toZonedDateTime(timeZone).epochMilliseconds
  if (dayStarts.size === MOST_KEPT) dayStarts.clear()
  dayStarts.set(key, start)
  return start
}

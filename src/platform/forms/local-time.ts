import { Temporal } from 'temporal-polyfill'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'

const LOCAL = /^\d{4}-\d{2}-\d{2}[T ]\d{1,2}:\d{2}(?::\d{2})?$/

/**
 * The time on the shop's wall, as a form has it (2031-05-04T10:30), to the instant on the wire. Where the clocks go back and
 * an hour comes twice, the earlier; where an hour is skipped, the time after the gap. null when it is no such text.
 */
export function instantOfLocal(text: string, timeZone: string): string | null {
  if (!LOCAL.test(text)) return null
  const [day = '', time = ''] = text.split(/[T ]/)
  try {
    const wall = Temporal.PlainDateTime.from(`${day}T${time.padStart(5, '0')}`, { overflow: 'reject' })
    return new Date(wall.toZonedDateTime(timeZone).epochMilliseconds).toISOString()
  } catch (error) {
    if (error instanceof RangeError) return null
    throw error
  }
}

/** The inverse, to the minute, as an `<input>` wants it. */
export function localOfInstant(instant: string, timeZone: string): string {
  const ms = Date.parse(instant)
  return `${localDateOf(ms, timeZone)}T${localTimeOf(ms, timeZone)}`
}

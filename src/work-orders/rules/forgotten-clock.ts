import { localDateOf } from '../../core/calendar.ts'

/**
 * A clock that has run over midnight of the shop was forgotten: when its person stopped is asked, never guessed. Instants in
 * milliseconds.
 */
export function isForgotten(startedAt: number, now: number, timeZone: string): boolean {
  return localDateOf(startedAt, timeZone) < localDateOf(now, timeZone)
}

import { namesOfPeople, settingsOf } from '../../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../../core/calendar.ts'
import { shortDay } from '../../../core/days.ts'
import type { Context } from '../../../platform/context.ts'

/** "13:05, Tobin Rask": when, with its day where that is another one, and who. */
export type Stamp = (row: { at: number; created_by: string | null }) => string

export function stampOf(ctx: Context): Stamp {
  const { time_zone } = settingsOf(ctx)
  const people = namesOfPeople(ctx)
  const today = localDateOf(ctx.clock.now(), time_zone)
  return ({ at, created_by }) => {
    const day = localDateOf(at, time_zone)
    const time = `${day === today ? '' : `${shortDay(day)}, `}${localTimeOf(at, time_zone)}`
    return [time, created_by === null ? undefined : people.get(created_by)].filter(Boolean).join(', ')
  }
}

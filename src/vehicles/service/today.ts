import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'

/** Today in the shop, YYYY-MM-DD. */
export function today(ctx: Context): string {
  return localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
}

import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import { confirmedComebacks } from '../queries/rated-jobs.ts'

/** The first confirmed comeback of a job, and what it cost the shop where that is known. */
export interface FirstComeback {
  on: string
  category: string | null
  cost_minor: number | null
}

/** A job's confirmed comeback counts once, the first: by the id of the earlier job, as known then. */
export function firstComebacks(ctx: Context, known: { asOf: string; before: number }): Map<string, FirstComeback> {
  const { time_zone, cost_rate_minor } = settingsOf(ctx)
  const first = new Map<string, FirstComeback>()
  for (const { earlier_id, on, at, category, cost_minor } of confirmedComebacks(ctx.read, known, cost_rate_minor)) {
    const day = on ?? localDateOf(at ?? 0, time_zone)
    const before = first.get(earlier_id)
    if (before === undefined || day < before.on) first.set(earlier_id, { on: day, category, cost_minor })
  }
  return first
}

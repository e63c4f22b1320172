import { settingsOf } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { ratedJobs } from '../queries/rated-jobs.ts'
import type { RatedJob } from '../rules/comeback-rate.ts'
import { windowDays } from '../rules/reasons.ts'
import { firstComebacks } from './first-comebacks.ts'

/** Every job that was handed back by then, with its first comeback. */
export function jobsAsKnown(ctx: Context, known: { asOf: string; before: number }): RatedJob[] {
  const settings = settingsOf(ctx)
  const first = firstComebacks(ctx, known)
  return ratedJobs(ctx.read, known).map(row => ({
    handed_back_on: row.handed_back_on,
    window_days: windowDays({ warranty_days: row.warranty_days, is_imported: row.is_imported === 1 }, settings),
    operation: row.operation,
    family: row.family,
    suppliers: JSON.parse(row.suppliers) as string[],
    comeback: first.get(row.id) ?? null,
  }))
}

import { settingsOf } from '../../accounts/index.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { ComebackRate, ComebackRateQuery } from '../contract.ts'
import { ratedJobs } from '../queries/rated-jobs.ts'
import { comebackRate, type RatedJob } from '../rules/comeback-rate.ts'
import { windowDays } from '../rules/reasons.ts'
import { firstComebacks } from './first-comebacks.ts'

const METHOD =
  'Comebacks within the window among jobs that have been out for all of it; interval of Wilson (1927); exact binomial limits at the rate of the twelve months before.'

/** How many of the jobs handed back in a period came back, by month or otherwise; 422 for a period that ends before it begins. */
export function comebackRates(ctx: Context, query: ComebackRateQuery): ComebackRate {
  const { from = null, to = null } = query
  if (from !== null && to !== null && to < from) {
    throw invalid({ pointer: '/to', detail: 'The period ends before it begins.', code: 'too_early' })
  }
  const known = asKnown(ctx, query.as_of)
  const groups = comebackRate(jobsAsKnown(ctx, known), { by: query.by ?? 'month', from, to, asOf: known.asOf })
  return { as_of: known.asOf, method: METHOD, groups }
}

/** Every job that was handed back by then, with its first comeback. */
function jobsAsKnown(ctx: Context, known: { asOf: string; before: number }): RatedJob[] {
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

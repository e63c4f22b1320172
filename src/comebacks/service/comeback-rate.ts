import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { ComebackRate, ComebackRateQuery } from '../contract.ts'
import { confirmedComebacks, ratedJobs } from '../queries/rated-jobs.ts'
import { comebackRate, type RatedJob } from '../rules/comeback-rate.ts'
import { windowDays } from '../rules/reasons.ts'

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
export function jobsAsKnown(ctx: Context, known: { asOf: string; before: number }): (RatedJob & { id: string })[] {
  const { time_zone, warranty_days, comeback_window_days } = settingsOf(ctx)
  const first = new Map<string, { on: string; category: string | null }>()
  for (const { earlier_id, on, at, category } of confirmedComebacks(ctx.read, known)) {
    const day = on ?? localDateOf(at ?? 0, time_zone)
    const before = first.get(earlier_id)
    if (before === undefined || day < before.on) first.set(earlier_id, { on: day, category })
  }
  return ratedJobs(ctx.read, known).map(row => ({
    id: row.id,
    handed_back_on: row.handed_back_on,
    // an imported row without a term has the settings' warranty; a job of our own without one has none
    window_days: windowDays(row.warranty_days, row.is_imported === 1 ? warranty_days : comeback_window_days),
    operation: row.operation,
    family: row.family,
    suppliers: JSON.parse(row.suppliers) as string[],
    comeback: first.get(row.id) ?? null,
  }))
}

import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { ComebackRate, ComebackRateQuery } from '../contract.ts'
import { comebackRate } from '../rules/comeback-rate.ts'
import { jobsAsKnown } from './jobs-as-known.ts'

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

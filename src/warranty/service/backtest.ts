import { firstComebacks } from '../../comebacks/index.ts'
import { addDays, addMonths, monthBounds, monthOf } from '../../core/calendar.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { Backtest, BacktestQuery } from '../contract.ts'
import { readings } from '../queries.ts'
import { claimsAfter, exposureOf, monthEnds, usageOf } from '../rules.ts'
import { jobsAsKnown, livesOf } from './exposure.ts'

const METHOD =
  'At each month-end the claims of the next days are foretold with only what was known then, and counted afterwards; coverage of the 90 % interval.'

const HORIZON_DAYS = 90
const MOST_CUTOFFS = 120
/** The longest horizon and a year after the first day that can be written. */
const FIRST_WITH_A_PAST = '0012-01-01'

/** Were we right before? Foretells past months with what was known then and counts what happened. */
export function warrantyBacktest(ctx: Context, query: BacktestQuery): Backtest {
  const now = asKnown(ctx, query.as_of)
  const horizon = query.horizon_days ?? HORIZON_DAYS
  const cutoffs = cutoffsOf(query, now.asOf, horizon)
  const lives = livesOf(readings(ctx.read))
  const later = firstComebacks(ctx, now)
  const results = cutoffs.map(cutoff => {
    const then = asKnown(ctx, cutoff)
    const usage = usageOf(lives, then)
    // claims are foretold, not money, and working out what each stay cost at each month-end takes long
    const jobs = jobsAsKnown(ctx, then, () => null)
    const { expected_claims, claims } = exposureOf(jobs, usage, cutoff, { horizonDays: horizon })
    const actual = claimsAfter(jobs, usage, cutoff, horizon, id => later.get(id)?.on ?? null)
    return { as_of: cutoff, predicted: expected_claims, p05: claims.p05, p95: claims.p95, actual }
  })
  const within = results.filter(({ p05, p95, actual }) => p05 <= actual && actual <= p95).length
  const coverage = results.length === 0 ? null : within / results.length
  return { as_of: now.asOf, method: METHOD, horizon_days: horizon, cutoffs: results, coverage }
}

/** The month-ends asked for whose horizon lies behind us; without a period those of the last twelve months. */
function cutoffsOf({ from, to }: BacktestQuery, asOf: string, horizon: number): string[] {
  if (from !== undefined && to !== undefined && to < from) {
    throw invalid({ pointer: '/to', detail: 'The period ends before it begins.', code: 'too_early' })
  }
  // the calendar begins with the year 0: so early nothing lies behind us
  if (asOf < FIRST_WITH_A_PAST) return []
  const newest = addDays(asOf, -horizon)
  const last = to === undefined || to > newest ? newest : to
  const first = from ?? addMonths(monthBounds(monthOf(addDays(last, 1))).first, -12)
  const cutoffs = first > last ? [] : monthEnds(first, last)
  if (cutoffs.length <= MOST_CUTOFFS) return cutoffs
  const detail = `This period has ${cutoffs.length} month-ends; ask for at most ${MOST_CUTOFFS} at a time.`
  throw invalid({ pointer: '/from', detail, code: 'too_many' })
}

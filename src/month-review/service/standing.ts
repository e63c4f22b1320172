import { comebackRates } from '../../comebacks/index.ts'
import { addDays, monthBounds } from '../../core/calendar.ts'
import { sumMinor } from '../../core/money.ts'
import { wilsonInterval } from '../../core/statistics/exact/wilson-interval.ts'
import { SEVERITIES, type Severity } from '../../core/vocabulary.ts'
import { allDoubts, type Doubt } from '../../fastening/index.ts'
import type { Context } from '../../platform/context.ts'
import { fromInstant } from '../../platform/wire.ts'
import { priorWorkPairs } from '../../recurring-failures/index.ts'
import { wrenchState } from '../../tools/index.ts'
import { warrantyExposures } from '../../warranty/index.ts'
import type {
  CalibrationDue,
  MonthDoubts,
  MonthLeftForLater,
  MonthPairs,
  MonthRates,
  MonthWarranty,
} from '../contract.ts'
import { leftOpenThen, wrenchesThen } from '../queries/open-then.ts'
import { monthsTo } from '../rules/months.ts'
import { newPairs } from '../rules/new-pairs.ts'
import type { MonthSpan } from './span.ts'

/** The month and the twelve before it, by the month of the hand-back. */
export function ratesTo(ctx: Context, { month, last, as_known_on }: MonthSpan): MonthRates {
  const names = monthsTo(month, 12)
  const from = monthBounds(names[0] ?? month).first
  const { groups } = comebackRates(ctx, { by: 'month', from, to: last, as_of: as_known_on })
  const nothing = { jobs: 0, comebacks: 0, rate: null, lower: null, upper: null, limit_lower: null, limit_upper: null }
  const months = names.map(
    key => groups.find(group => group.key === key) ?? { key, ...nothing, still_open: { jobs: 0, comebacks: 0 } },
  )
  const year = months.slice(0, -1)
  const jobs = year.reduce((sum, each) => sum + each.jobs, 0)
  const comebacks = year.reduce((sum, each) => sum + each.comebacks, 0)
  const limits = jobs === 0 ? { lower: null, upper: null } : wilsonInterval(comebacks, jobs)
  return { months, year: { jobs, comebacks, rate: jobs === 0 ? null : comebacks / jobs, ...limits } }
}

/** What is foretold then, and what was foretold at the end of the month before: the promises and the record of that day. */
export function warrantyOn(ctx: Context, { as_known_on, first }: MonthSpan): MonthWarranty {
  const { jobs, expected_claims, claims, expected_cost_minor, cost_minor, operations } = warrantyExposures(ctx, {
    as_of: as_known_on,
  })
  const everClaimed = operations.some(operation => operation.observed > 0)
  const open = operations.filter(operation => operation.jobs > 0)
  const foretold = { expected_claims, claims, expected_cost_minor, cost_minor, operations: open }
  const as_of = addDays(first, -1)
  const ago = warrantyExposures(ctx, { as_of })
  return {
    jobs,
    foretold: everClaimed ? foretold : null,
    a_month_ago: ago.operations.some(operation => operation.observed > 0)
      ? { as_of, jobs: ago.jobs, expected_claims: ago.expected_claims, expected_cost_minor: ago.expected_cost_minor }
      : null,
  }
}

/** Joints in doubt that were known to be, and that nobody had settled, by then. */
export function doubtsOn(ctx: Context, { before }: MonthSpan): MonthDoubts {
  const open = allDoubts(ctx).filter(
    ({ known_at, settled }) =>
      fromInstant(known_at) < before && (settled === null || fromInstant(settled.at) >= before),
  )
  const reasons = [...new Set(open.map(doubt => doubt.because))]
  return {
    ...jointsOf(open),
    causes: reasons.map(because => ({ because, ...jointsOf(open.filter(doubt => doubt.because === because)) })),
  }
}

/** A joint that is in doubt for several reasons counts once. */
function jointsOf(doubts: readonly Doubt[]) {
  const severityOf = new Map<string, Severity>(doubts.map(({ joint_id, severity }) => [joint_id, severity]))
  const count = (severity: Severity) => [...severityOf.values()].filter(each => each === severity).length
  return {
    joints: severityOf.size,
    vehicles: new Set(doubts.map(doubt => doubt.vehicle_id)).size,
    severities: Object.fromEntries(SEVERITIES.map(severity => [severity, count(severity)])) as Record<Severity, number>,
  }
}

/** What says more about what follows what than it did before the month. */
export function pairsNewIn(ctx: Context, { first, as_known_on }: MonthSpan): MonthPairs {
  const now = priorWorkPairs(ctx, { as_of: as_known_on }).pairs
  const then = priorWorkPairs(ctx, { as_of: addDays(first, -1) }).pairs
  const count = (says: string) => now.filter(pair => pair.says === says).length
  return {
    often: count('often'),
    may: count('may'),
    news: newPairs(now, then).map(({ pair, said }) => ({
      ...{ operation: pair.operation, component: pair.component, failure_mode: pair.failure_mode },
      says: pair.says === 'often' ? 'often' : 'may',
      said,
      failures_after: pair.exposed.events,
      failures_without: pair.unexposed.events,
      ...{ rate_ratio: pair.rate_ratio, lower: pair.lower, upper: pair.upper, q: pair.q },
    })),
  }
}

const SOON_DAYS = 31

export function calibrationsDue(ctx: Context, { as_known_on, before }: MonthSpan): CalibrationDue[] {
  const soon = addDays(as_known_on, SOON_DAYS)
  return wrenchesThen(ctx.read, before)
    .flatMap(({ id, name }) => {
      const due_on = wrenchState(ctx, id, as_known_on)?.due_on ?? null
      if (due_on === null || due_on > soon) return []
      return [{ wrench_id: id, name, due_on, overdue: due_on < as_known_on }]
    })
    .sort((a, b) => (a.due_on < b.due_on ? -1 : a.due_on > b.due_on ? 1 : 0))
}

export function leftForLaterThen(ctx: Context, { before }: MonthSpan): MonthLeftForLater {
  const left = leftOpenThen(ctx.read, before)
  return {
    count: left.length,
    vehicles: new Set(left.map(row => row.vehicle_id)).size,
    safety: left.filter(row => row.is_safety === 1).length,
    amount_minor: sumMinor(left.flatMap(row => row.amount_minor ?? [])),
    not_priced: left.filter(row => row.amount_minor === null).length,
  }
}

import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { symptomNames } from '../../catalogue/index.ts'
import { costOfStay, firstComebacks, openSuspicions, statedCost } from '../../comebacks/index.ts'
import { daysBetween, localDateOf } from '../../core/calendar.ts'
import { sumMinor } from '../../core/money.ts'
import type { Context } from '../../platform/context.ts'
import type { ConfirmedReturn, MonthComebacks, RuledOutReturn, WaitingReturn } from '../contract.ts'
import { earliestJob } from '../queries/handed-back.ts'
import {
  type DecisionRow,
  decisionsOnStays,
  type EarlierRow,
  earlierJobsById,
  type ImportedReturnRow,
  importedReturnsIn,
  type StayRow,
  staysById,
} from '../queries/returns.ts'
import { monthsOnRecord, monthsTo } from '../rules/months.ts'
import { standingThen } from '../rules/standing-then.ts'
import type { MonthSpan } from './span.ts'

/**
 * What came back in the month: each stay and job that somebody decided, or that is still to decide, as known then. What is
 * suspected is derived from today's record: of it the decisions are taken back to then, not the findings.
 */
export function comebacksOf(ctx: Context, span: MonthSpan): MonthComebacks {
  const decisions = decisionsOnStays(ctx.read, span)
  const { standing, undecided } = standingThen(decisions, span.before)
  const suspected = suspectedThen(suspectedNow(ctx), undecided)
  const imported = importedReturnsIn(ctx.read, { first: span.first, last: earlierOf(span.last, span.as_known_on) })
  const stays = staysById(
    ctx.read,
    [...decisions, ...suspected].map(each => each.later_work_order_id),
  )
  const jobs = earlierJobsById(
    ctx.read,
    [...decisions, ...suspected, ...imported].map(each => each.earlier_id),
  )
  const first = firstComebacks(ctx, { asOf: span.as_known_on, before: span.before })
  const told = tellerOf(ctx, { stays, jobs })
  const waiting = waitingOf(suspected, stays, span).map(
    (each): WaitingReturn => ({ ...told.stay(each), reasons: each.reasons }),
  )
  const confirmed = [
    ...confirmedHere(ctx, standing, stays, told, span),
    ...imported.map(row => told.imported(row)),
  ].map(one => ({ ...one, is_first: first.get(one.earlier_job_id)?.on === one.came_in_on }))
  const costs = confirmed.flatMap(({ cost }) => (cost === null ? [] : [cost.total_minor]))
  const unknown = confirmed.filter(one => one.cost === null && one.cost_missing !== 'with_another').length
  return {
    jobs_came_back: countIn([...first.values()], [span.month]),
    before: before(ctx, [...first.values()], span.month),
    cost_minor: confirmed.length > 0 && costs.length === 0 ? null : sumMinor(costs),
    cost_not_known: unknown,
    confirmed: inOrder(confirmed),
    ruled_out: inOrder(standing.filter(each => each.decision === 'ruled_out').map(told.decision)),
    waiting: inOrder(waiting),
  }
}

/** A stay that an earlier job is suspected of, and that nobody has decided. */
type SuspectedPair = Pair & Pick<WaitingReturn, 'reasons'>

/** What is undecided today. */
export function suspectedNow(ctx: Context): SuspectedPair[] {
  return openSuspicions(ctx).map(({ earlier_job_id, later_work_order_id, reasons }) => ({
    ...{ earlier_id: earlier_job_id, later_work_order_id, reasons },
  }))
}

/** With what somebody decided only later. */
function suspectedThen(now: readonly SuspectedPair[], undecided: readonly DecisionRow[]): SuspectedPair[] {
  return [...now, ...undecided.filter(decision => decision.reasons.length > 0)]
}

/** Of these, the stays that began in the month. */
function waitingOf(
  suspected: readonly SuspectedPair[],
  stays: ReadonlyMap<string, StayRow>,
  span: MonthSpan,
): SuspectedPair[] {
  return suspected.filter(({ later_work_order_id }) => beganWithin(stays.get(later_work_order_id)!, span))
}

function earlierOf(one: string, other: string): string {
  return one < other ? one : other
}

function beganWithin(stay: StayRow, { fromMs, toMs, before }: MonthSpan): boolean {
  return stay.created_at >= fromMs && stay.created_at < Math.min(toMs, before)
}

function inOrder<Return extends { came_in_on: string; days_after: number }>(returns: Return[]): Return[] {
  return returns.sort(
    (a, b) => (a.came_in_on < b.came_in_on ? -1 : a.came_in_on > b.came_in_on ? 1 : 0) || a.days_after - b.days_after,
  )
}

function countIn(first: readonly { on: string }[], months: readonly string[]): number {
  return first.filter(({ on }) => months.includes(on.slice(0, 7))).length
}

function before(ctx: Context, first: readonly { on: string }[], month: string): MonthComebacks['before'] {
  const months = monthsOnRecord(month, earliestJob(ctx.read))
  const counted = monthsTo(month, 12)
    .slice(0, -1)
    .slice(12 - months)
  return { months, jobs_came_back: countIn(first, counted) }
}

type Untold = Omit<ConfirmedReturn, 'is_first'>

/** Each with the cost of its stay; a stay that is due to several jobs costs once, with the latest of them. */
function confirmedHere(
  ctx: Context,
  standing: readonly DecisionRow[],
  stays: ReadonlyMap<string, StayRow>,
  told: Teller,
  { before }: MonthSpan,
): Untold[] {
  const confirmed = standing
    .filter(each => each.decision === 'confirmed')
    .map(each => ({ each, one: told.decision(each) }))
  const costed = new Set<string>()
  return confirmed
    .sort((a, b) => a.one.days_after - b.one.days_after)
    .map(({ each, one }): Untold => {
      const stay = stays.get(each.later_work_order_id)!
      if (costed.has(stay.id)) return { ...one, cost: null, cost_missing: 'with_another' }
      costed.add(stay.id)
      const cost = costOfStay(ctx, stay.id, before)
      return { ...one, cost, cost_missing: cost === null ? 'still_here' : null }
    })
}

type Teller = ReturnType<typeof tellerOf>
interface Pair {
  earlier_id: string
  later_work_order_id: string
}

/** Tells returns with what people call the vehicle, the job and the stay. */
function tellerOf(
  ctx: Context,
  { stays, jobs }: { stays: ReadonlyMap<string, StayRow>; jobs: ReadonlyMap<string, EarlierRow> },
) {
  const { time_zone } = settingsOf(ctx)
  const people = namesOfPeople(ctx)
  const earlier = (id: string) => {
    const { task, order_id, order_number, handed_back_on } = jobs.get(id)!
    return {
      earlier_job_id: id,
      earlier_task: task,
      earlier_order: order_id === null || order_number === null ? null : { id: order_id, number: order_number },
      earlier_handed_back_on: handed_back_on,
    }
  }
  const stayOf = ({ earlier_id, later_work_order_id }: Pair) => {
    const { id, number, vehicle_id, vehicle, family, symptom_ids, created_at } = stays.get(later_work_order_id)!
    const job = earlier(earlier_id)
    const came_in_on = localDateOf(created_at, time_zone)
    return {
      ...{ vehicle_id, vehicle, family, symptoms: symptomNames(ctx, symptom_ids) },
      ...job,
      later_order: { id, number },
      came_in_on,
      days_after: daysBetween(job.earlier_handed_back_on, came_in_on),
    }
  }
  return {
    stay: stayOf,
    decision(row: DecisionRow): RuledOutReturn {
      const { why, category, root_cause, borne_by } = row
      const decided_by = people.get(row.created_by ?? '') ?? null
      return { ...stayOf(row), decided_by, why, category, root_cause, borne_by }
    },
    imported(row: ImportedReturnRow): Untold {
      const job = earlier(row.earlier_id)
      const cost = statedCost(row)
      return {
        ...{ vehicle_id: row.vehicle_id, vehicle: row.vehicle, family: row.family },
        symptoms: row.symptom === null ? [] : [row.symptom],
        ...job,
        later_order: null,
        came_in_on: row.on,
        days_after: daysBetween(job.earlier_handed_back_on, row.on),
        ...{ decided_by: null, why: row.note, category: null, root_cause: [], borne_by: null },
        ...{ cost, cost_missing: cost === null ? ('not_stated' as const) : null },
      }
    },
  }
}

/** What the list of months says of one of them: jobs that came back in it, and stays that were still to decide. */
export function countReturns(
  ctx: Context,
  span: MonthSpan,
  now: readonly SuspectedPair[],
): { came_back: number; waiting: number } {
  const first = firstComebacks(ctx, { asOf: span.as_known_on, before: span.before })
  const { undecided } = standingThen(decisionsOnStays(ctx.read, span), span.before)
  const suspected = suspectedThen(now, undecided)
  const stays = staysById(
    ctx.read,
    suspected.map(each => each.later_work_order_id),
  )
  return {
    came_back: countIn([...first.values()], [span.month]),
    waiting: new Set(waitingOf(suspected, stays, span).map(each => each.later_work_order_id)).size,
  }
}

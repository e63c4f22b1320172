import { namesOfPeople } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import type { ComebackDecision, Suspicion } from '../contract.ts'
import { standingDecisions, standingDecisionsOf } from '../queries/decisions.ts'
import { type JobTitle, jobTitles, type StayTitle, stayTitles } from '../queries/titles.ts'
import { comebackDecision, comebackDecisions, decisionOnWire } from './decisions.ts'
import { openSuspicions } from './suspicions.ts'

export type { JobTitle, StayTitle }

/** A suspicion or a decision with what people call the job and the stay. */
export interface Told<T> {
  about: T
  job: JobTitle
  stay: StayTitle
}

/** A decision, and who made it. */
export interface ToldDecision extends Told<ComebackDecision> {
  by: string | null
}

export function suspicionsTold(ctx: Context): Told<Suspicion>[] {
  return told(ctx, openSuspicions(ctx))
}

/** Newest first, after an id; those that no longer hold among them. */
export function decisionsTold(ctx: Context, limit: number, after: string | null): ToldDecision[] {
  return withNames(ctx, comebackDecisions(ctx, limit, after))
}

/** Comebacks that are confirmed and stand, newest first. */
export function confirmedTold(ctx: Context): ToldDecision[] {
  const confirmed = standingDecisions(ctx.read).filter(row => row.decision === 'confirmed')
  return withNames(ctx, confirmed.map(decisionOnWire))
}

/** What stands of the stays of one vehicle, confirmed or ruled out, newest first. */
export function decidedOfVehicle(ctx: Context, vehicleId: string): ToldDecision[] {
  return withNames(ctx, standingDecisionsOf(ctx.read, vehicleId).map(decisionOnWire))
}

/** One decision. 404 when there is none. */
export function decisionTold(ctx: Context, id: string): ToldDecision {
  return withNames(ctx, [comebackDecision(ctx, id)])[0]!
}

export function withNames(ctx: Context, decisions: ComebackDecision[]): ToldDecision[] {
  const names = namesOfPeople(ctx)
  return told(ctx, decisions).map(one => ({ ...one, by: names.get(one.about.created_by ?? '') ?? null }))
}

/** The job and the stay of one page. Both are known: `requirePair` has looked. */
export function pairTold(ctx: Context, earlierId: string, laterId: string): { job: JobTitle; stay: StayTitle } {
  return { job: jobTitles(ctx.read, [earlierId]).get(earlierId)!, stay: stayTitles(ctx.read, [laterId]).get(laterId)! }
}

function told<T extends { earlier_job_id: string; later_work_order_id: string }>(ctx: Context, about: T[]): Told<T>[] {
  const job = jobTitles(
    ctx.read,
    about.map(one => one.earlier_job_id),
  )
  const stay = stayTitles(
    ctx.read,
    about.map(one => one.later_work_order_id),
  )
  return about.map(one => ({
    about: one,
    job: job.get(one.earlier_job_id)!,
    stay: stay.get(one.later_work_order_id)!,
  }))
}

import { settingsOf } from '../../accounts/index.ts'
import { formatMinor } from '../../core/money.ts'
import type { WorkOrderState } from '../../core/vocabulary.ts'
import { jobsWithTorqueRecords, jointStates } from '../../fastening/index.ts'
import { finalCheckResults, findingWords, lookResults, untoldOfStay } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import {
  type ChargesOfOrder,
  chargesOfPlan,
  isJobDone,
  missingWords,
  type OrderPlan,
  type PlannedJob,
  planOfOrder,
  standingHandTurn,
  stateOf,
} from '../../work-orders/index.ts'
import type { Question } from '../rules/ask-first.ts'
import { type Blocker, type OrderFacts, workBlockers } from '../rules/blockers.ts'
import type { EngineFacts } from '../rules/engine.ts'
import { checkStands } from '../rules/final-check.ts'
import { moneyBlockers } from '../rules/to-pay.ts'
import { questionsToAsk } from './ask-first.ts'

/** Where an order stands, from everything that was recorded on it. */
export interface Standing {
  plan: OrderPlan
  charges: ChargesOfOrder
  state: WorkOrderState
  /** What keeps the vehicle from being handed back; empty once it was. */
  blockers: Blocker[]
  /** What stops nobody and is asked before it leaves; empty once it has. */
  to_ask: Question[]
  /** The ids of the jobs that are done; voided ones are not among them. */
  done_job_ids: Set<string>
}

/** 404 for an unknown order. */
export function standingOfOrder(ctx: Context, orderId: string): Standing {
  const plan = planOfOrder(ctx, orderId)
  const charges = chargesOfPlan(ctx, plan)
  const facts = factsOf(ctx, plan)
  const standing = plan.jobs.filter(job => job.voiding === null)
  const done = standing.filter(job => isDone(plan, job, facts))
  const handedBack = plan.hand_back !== null
  const blockers = handedBack ? [] : [...workBlockers(facts), ...moneyBlockersOf(ctx, plan, charges, 0)]
  const state = stateOf({
    handed_back: handedBack,
    agreed: charges.has_yes,
    begun: hasBegun(ctx, plan),
    has_jobs: plan.jobs.length > 0,
    all_done: done.length === standing.length,
    blocked: blockers.length > 0,
  })
  const to_ask = handedBack ? [] : questionsToAsk(ctx, plan, charges.gross_minor)
  return { plan, charges, state, blockers, to_ask, done_job_ids: new Set(done.map(job => job.id)) }
}

export function moneyBlockersOf(ctx: Context, plan: OrderPlan, charges: ChargesOfOrder, borneMinor: number): Blocker[] {
  const { currency, locale } = settingsOf(ctx)
  const { total_minor, agreed_minor, has_yes } = charges
  return moneyBlockers(
    { order_id: plan.order.id, total_minor, agreed_minor, has_yes, borne_minor: borneMinor },
    amount => formatMinor(amount, currency, locale),
  )
}

/**
 * What the rules judge by: points of the jobs that stand, steps and tools of every job, and whatever joint somebody has begun:
 * also on a voided job it must end tight.
 */
export function factsOf(ctx: Context, plan: OrderPlan): OrderFacts {
  const standing = plan.jobs.filter(job => job.voiding === null)
  const looks = standing.flatMap(job => job.looks)
  const checks = standing.flatMap(job => job.final_checks)
  const ids = (rows: readonly { id: string }[]) => rows.map(row => row.id)
  const seen = lookResults(ctx, ids(looks))
  const checked = finalCheckResults(ctx, ids(checks))
  return {
    order_id: plan.order.id,
    steps: plan.steps.map(step => ({
      ...step,
      job_id: standing.find(job => step.job_ids.includes(job.id))?.id ?? step.job_ids[0]!,
    })),
    tools: toolsStillIn(plan),
    looks: looks.map(look => ({ ...look, done: seen.has(look.id) })),
    joints: jointFacts(ctx, plan.jobs).filter(
      joint => joint.begun || joint.temporary || standing.some(job => job.id === joint.job_id),
    ),
    engine: standing
      .filter(job => job.turns_engine)
      .map(({ id, letter, task }) => ({ job_id: id, letter, task, turned_by_hand: isTurnedByHand(plan) })),
    final_checks: checks.map(check => {
      const result = checked.get(check.id)
      const stands = result !== undefined && checkStands(result, openingsOfJob(plan, check.job_id))
      return { ...check, fine: stands ? result.fine : null }
    }),
    untold: untoldOfStay(ctx, plan.order).map(finding => ({ what: findingWords(finding) })),
  }
}

function toolsStillIn(plan: OrderPlan) {
  return plan.jobs
    .flatMap(job => job.tools_in)
    .filter(tool => tool.removed_at === null)
    .map(tool => ({ ...tool, missing: missingWords(tool) }))
}

function jointFacts(ctx: Context, jobs: readonly PlannedJob[]) {
  const joints = jobs.flatMap(job => job.joints)
  const states = jointStates(
    ctx,
    joints.map(joint => joint.id),
  )
  return joints.map(joint => {
    const { signed, temporary, begun, sentence } = states.get(joint.id)!
    return { ...joint, signed, temporary, begun, sentence }
  })
}

function isTurnedByHand(plan: OrderPlan): boolean {
  return standingHandTurn(plan.engine_turns, plan.openings) !== undefined
}

/** What the engine is judged by: every joint and tool of the order, voided jobs too. */
export function engineFactsOf(ctx: Context, plan: OrderPlan, jobId: string): EngineFacts {
  return {
    tools: toolsStillIn(plan),
    joints: jointFacts(ctx, plan.jobs),
    open_steps: openStepsOfEngine(plan),
    turned_by_hand: isTurnedByHand(plan),
    job_id: jobId,
  }
}

function openStepsOfEngine(plan: OrderPlan) {
  const turning = plan.jobs.filter(job => job.turns_engine && job.voiding === null)
  return plan.steps.flatMap(({ name, is_open, job_ids }) => {
    const job = turning.find(each => job_ids.includes(each.id))
    return is_open && job !== undefined ? [{ name, job_id: job.id }] : []
  })
}

/** Of every step that the job needs, through whichever job it was opened. */
export function openingsOfJob(plan: OrderPlan, jobId: string) {
  const own = plan.steps.filter(step => step.job_ids.includes(jobId)).map(step => step.access_step_id)
  return plan.openings.filter(opening => own.includes(opening.access_step_id))
}

function isDone(plan: OrderPlan, job: PlannedJob, facts: OrderFacts): boolean {
  const ofJob = <Point extends { id: string }>(points: readonly Point[], own: readonly { id: string }[]) =>
    points.filter(point => own.some(each => each.id === point.id))
  return isJobDone({
    steps: plan.steps.filter(step => step.job_ids.includes(job.id)),
    joints: ofJob(facts.joints, job.joints).map(joint => joint.signed),
    looks: ofJob(facts.looks, job.looks).map(look => look.done),
    final_checks: ofJob(facts.final_checks, job.final_checks).map(check => check.fine === true),
    turned_by_hand: job.turns_engine ? isTurnedByHand(plan) : null,
    completed: job.completion !== null,
  })
}

/** From the first opening, clock or record of any kind. */
function hasBegun(ctx: Context, plan: OrderPlan): boolean {
  if (plan.openings.length > 0 || plan.clocks.length > 0 || plan.engine_turns.length > 0) return true
  const isTouched = (job: PlannedJob) =>
    job.tools_in.length > 0 || job.completion !== null || job.marks.some(mark => mark.made !== null)
  if (plan.jobs.some(isTouched)) return true
  return (
    jobsWithTorqueRecords(
      ctx,
      plan.jobs.map(job => job.id),
    ).size > 0
  )
}

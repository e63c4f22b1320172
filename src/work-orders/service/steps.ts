import { inText } from '../../core/words.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Closing, ClosingInput, Opening, OpeningInput } from '../contract.ts'
import { type ClosingRow, insertClosingRow, insertOpening, type OpeningRow } from '../queries/doings.ts'
import type { JobRow, JobStepRow } from '../queries/plan.ts'
import { marksBefore } from '../rules/marks.ts'
import { closedNeeds, type SharedStep } from '../rules/shared-steps.ts'
import { requireJob, requireOrderInHouse, requireStandingJob } from './known.ts'
import { markMissing } from './marks.ts'
import type { OrderPlan } from './order-plan.ts'
import { planOfOrder } from './plan.ts'

/** A step of a job's plan, with what the whole order knows of it. */
export interface StepOfJob {
  job: JobRow
  step: JobStepRow
  shared: SharedStep
  plan: OrderPlan
}

/** `stepId` is the id of the job's step, or of the access step that it stands for. 404 when the job has no such step. */
export function stepOfJob(ctx: Context, jobId: string, stepId: string): StepOfJob {
  const job = requireJob(ctx, jobId)
  const plan = planOfOrder(ctx, job.work_order_id)
  const { steps } = plan.jobs.find(each => each.id === jobId)!
  const step = steps.find(each => each.id === stepId || each.access_step_id === stepId)
  if (step === undefined) throw notFound(`step of job ${job.letter}`, stepId)
  const shared = plan.steps.find(each => each.access_step_id === step.access_step_id)!
  return { job, step, shared, plan }
}

/**
 * Technician. Opens a strip-down step for all jobs of the order. 409 `step-open` when it is, 409 `step-not-reachable` while
 * a step that it needs is not open, 409 `mark-missing` with `blockers` while a position mark that comes before it is not
 * made. After a closing it counts again: `reason` and `borne_by` are kept then.
 */
export function openStep(ctx: Context, jobId: string, stepId: string, input: OpeningInput): Opening {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    requireStandingJob(ctx, jobId)
    const { job, step, shared, plan } = stepOfJob(ctx, jobId, stepId)
    if (shared.is_open) {
      throw problem('step-open', { detail: `"${step.name}" is open already; all jobs of the order share it.` })
    }
    const closed = closedNeeds(plan.steps, step)
    if (closed.length > 0) {
      const names = closed.map(each => `"${each.name}"`).join(', ')
      throw problem('step-not-reachable', {
        detail: `"${step.name}" is behind ${names}: open that first.`,
        extra: { steps: closed.map(each => ({ access_step_id: each.access_step_id, name: each.name })) },
      })
    }
    refuseUnmarked(step, shared, plan)
    if (shared.times_opened === 0 && input.borne_by !== undefined) {
      const detail =
        'A step opened for the first time is paid as agreed; who bears it is asked when it is opened again.'
      throw invalid({ pointer: '/borne_by', detail, code: 'first_opening' })
    }
    const record = newRecord(ctx)
    const row = {
      ...record,
      job_step_id: step.id,
      at: instantNotBefore(input.at, record.created_at, shared.closed_at, 'It was closed last at'),
      reason: input.reason ?? null,
      borne_by: input.borne_by ?? null,
    }
    insertOpening(tx, row)
    recordEvent(ctx, tx, { action: 'step.opened', table: 'jobs', id: job.id })
    return openingToWire({ ...row, job_id: job.id, access_step_id: step.access_step_id })
  })
}

/** Of jobs that stand: the position marks without which this step may not be opened, in the order of the plans. */
export function marksToMakeBefore(plan: OrderPlan, step: SharedStep) {
  const standing = plan.jobs.filter(job => job.voiding === null)
  const unmade = standing.flatMap(job => job.marks).filter(mark => mark.made === null)
  return marksBefore(
    unmade,
    standing.flatMap(job => job.joints),
    plan.steps,
    step,
  )
}

function refuseUnmarked(step: JobStepRow, shared: SharedStep, plan: OrderPlan): void {
  const missing = marksToMakeBefore(plan, shared)
  if (missing.length === 0) return
  throw markMissing(
    `Before "${step.name}" is opened: ${missing.map(mark => inText(mark.text)).join('; ')}. Once it is open, where things stood is lost.`,
    missing,
  )
}

/**
 * Writes down that a step was closed; for hand-back, which says whether it may be, and records the event. 409 `step-not-open`
 * when it is not open. A step of a voided job can still be closed: it was opened, and the vehicle must be whole again.
 */
export function insertClosing(ctx: Context, tx: Tx, { job, step, shared }: StepOfJob, input: ClosingInput): Closing {
  requireOrderInHouse(ctx, job.work_order_id)
  if (!shared.is_open) {
    throw problem('step-not-open', {
      detail: shared.times_opened === 0 ? `"${step.name}" was never opened.` : `"${step.name}" is closed already.`,
    })
  }
  const record = newRecord(ctx)
  const at = instantNotBefore(input.at, record.created_at, shared.opened_at, 'It was opened at')
  const row = { ...record, job_step_id: step.id, at }
  insertClosingRow(tx, row)
  return closingToWire({ ...row, job_id: job.id, access_step_id: step.access_step_id })
}

/** The instant sent, else now; 422 when it lies before what must have come first. */
export function instantNotBefore(sent: string | undefined, now: number, earliest: number | null, why: string): number {
  const at = sent === undefined ? Math.max(now, earliest ?? now) : fromInstant(sent)
  if (earliest === null || at >= earliest) return at
  throw invalid({ pointer: '/at', detail: `${why} ${toInstant(earliest)}: this cannot be earlier.`, code: 'too_early' })
}

/** Of the step for the whole order, whichever job opened it; oldest first. */
export function openingsOfStep(ctx: Context, jobId: string, stepId: string): Opening[] {
  const { step, plan } = stepOfJob(ctx, jobId, stepId)
  return plan.openings.filter(row => row.access_step_id === step.access_step_id).map(openingToWire)
}

export function closingsOfStep(ctx: Context, jobId: string, stepId: string): Closing[] {
  const { step, plan } = stepOfJob(ctx, jobId, stepId)
  return plan.closings.filter(row => row.access_step_id === step.access_step_id).map(closingToWire)
}

function openingToWire(row: OpeningRow): Opening {
  const { job_step_id, reason, borne_by, ...rest } = row
  const times = { created_at: toInstant(row.created_at), at: toInstant(row.at) }
  return { ...rest, ...times, step_id: job_step_id, ...withoutNulls({ reason, borne_by }) }
}

function closingToWire({ job_step_id, ...row }: ClosingRow): Closing {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at), step_id: job_step_id }
}

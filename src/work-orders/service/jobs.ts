import { settingsOf } from '../../accounts/index.ts'
import { latestRevision, type OperationPlan, operationPlan, stepsWithAllNeeded } from '../../catalogue/index.ts'
import { inText } from '../../core/words.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import type { Completion, CompletionInput, Job, JobInput, Voiding, VoidingInput } from '../contract.ts'
import { findCompletions, findVoiding, insertCompletion, insertVoiding } from '../queries/doings.ts'
import { isFindingOfVehicle } from '../queries/orders.ts'
import { findJobsOfOrder, insertJob, type NewPlan } from '../queries/plan.ts'
import { isBeforeWork } from '../rules/marks.ts'
import { isDoneByWord, letterOf } from '../rules/standing.ts'
import { stopClocksOn } from './clocks.ts'
import { requireJob, requireOrderInHouse, requireStandingJob } from './known.ts'
import { markMissing } from './marks.ts'
import { jobById } from './plan.ts'

/**
 * Desk or technician. The job copies what it needs from the catalogue as it is today: name, hours, warranty (else the
 * workshop's), every access step it needs, joints with the newest revision of their procedure and its marks, looks, final
 * checks, position marks and tools.
 */
export function addJob(ctx: Context, orderId: string, input: JobInput): Job {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const order = requireOrderInHouse(ctx, orderId)
    const { operation } = together({
      operation: () => operationFor(ctx, input),
      finding: () => refuseUnknownFinding(tx, input.settles_finding_id, order.vehicle_id),
    })
    const settings = settingsOf(ctx)
    const job = {
      ...newRecord(ctx),
      work_order_id: orderId,
      letter: letterOf(findJobsOfOrder(tx, orderId).length),
      operation_id: operation?.id ?? null,
      ...nameAndHours(input, operation),
      warranty_days: operation?.warranty_days ?? settings.warranty_days,
      warranty_km: operation?.warranty_km ?? settings.warranty_km,
      settles_finding_id: input.settles_finding_id ?? null,
      turns_engine: operation?.turns_engine ?? false,
      sound_before_after: operation?.sound_before_after ?? false,
    }
    insertJob(tx, job, operation === null ? NO_PLAN : planFrom(ctx, job.id, operation))
    recordEvent(ctx, tx, { action: 'job.added', table: 'jobs', id: job.id })
    return jobById(ctx, job.id)
  })
}

function refuseUnknownFinding(tx: Tx, id: string | undefined, vehicleId: string): void {
  if (id === undefined || isFindingOfVehicle(tx, id, vehicleId)) return
  const detail = `This vehicle has no finding with the id ${id}.`
  throw invalid({ pointer: '/settles_finding_id', detail, code: 'unknown' })
}

const NO_PLAN: NewPlan = { steps: [], joints: [], looks: [], final_checks: [], marks: [], tools: [] }

function operationFor(ctx: Context, { operation_id, task }: JobInput): OperationPlan | null {
  if (operation_id === undefined) return null
  if (task !== undefined) {
    throw invalid({ pointer: '/task', detail: 'Give an operation or a task of your own, not both.', code: 'not_both' })
  }
  return known('/operation_id', () => operationPlan(ctx, operation_id))
}

function nameAndHours(input: JobInput, operation: OperationPlan | null): { task: string; hours: number } {
  const task = operation?.name ?? input.task
  const hours = input.hours ?? operation?.hours
  if (task === undefined) {
    const detail = 'Give an operation, or say in your own words what is to be done.'
    throw invalid({ pointer: '/task', detail, code: 'needed' })
  }
  if (hours !== undefined) return { task, hours }
  const detail =
    operation === null ? 'A task needs its hours.' : 'The catalogue has no hours for this operation yet: give them.'
  throw invalid({ pointer: '/hours', detail, code: 'needed' })
}

function planFrom(ctx: Context, job_id: string, operation: OperationPlan): NewPlan {
  const row = () => ({ ...newRecord(ctx), job_id })
  // the catalogue takes no operation whose procedure has no revision yet
  const joints = operation.joints.map(joint => ({ ...joint, revision: latestRevision(ctx, joint.procedure_id)! }))
  const jointRows = joints.map(({ name, revision, behind_step_id }) => ({
    ...row(),
    name,
    procedure_revision_id: revision.id,
    behind_step_id: behind_step_id ?? null,
  }))
  return {
    steps: stepsWithAllNeeded(ctx, operation.access_step_ids).map(({ id, ...step }) => ({
      ...row(),
      ...step,
      access_step_id: id,
    })),
    joints: jointRows,
    looks: operation.looks.map(({ component_id, severity, minutes, behind_step_id }) => ({
      ...row(),
      ...{ component_id, severity, minutes, behind_step_id: behind_step_id ?? null },
    })),
    final_checks: operation.final_checks.map(text => ({ ...row(), text })),
    marks: [
      ...(operation.marks ?? []).map(({ text, behind_step_id, before_step_id, photo }) => ({
        ...row(),
        ...{ text, behind_step_id: behind_step_id ?? null, before_step_id: before_step_id ?? null, joint_id: null },
        photo: photo ?? null,
      })),
      ...joints.flatMap(({ revision }, at) =>
        (revision.marks ?? []).map(text => ({
          ...row(),
          ...{ text, behind_step_id: null, before_step_id: null, joint_id: jointRows[at]!.id, photo: null },
        })),
      ),
    ],
    tools: (operation.tools ?? []).map(({ tool, count, for_step_id, before_step_id }) => ({
      ...row(),
      ...{ tool, count: count ?? 1, for_step_id: for_step_id ?? null, before_step_id: before_step_id ?? null },
    })),
  }
}

/** Desk. The job is not done after all; what was recorded on it stays, and so does a tool that it put in. Clocks on it stop. */
export function voidJob(ctx: Context, id: string, { reason }: VoidingInput): Voiding {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const { work_order_id } = requireStandingJob(ctx, id)
    const row = { ...newRecord(ctx), job_id: id, reason }
    stopClocksOn(ctx, tx, work_order_id, jobId => jobId === id)
    insertVoiding(tx, row)
    recordEvent(ctx, tx, { action: 'job.voided', table: 'jobs', id })
    return { ...row, created_at: toInstant(row.created_at) }
  })
}

/** 404 while the job was not voided. */
export function voidingOfJob(ctx: Context, id: string): Voiding {
  requireJob(ctx, id)
  const row = findVoiding(ctx.read, id)
  if (row === undefined) throw notFound('voiding of the job', id)
  return { ...row, created_at: toInstant(row.created_at) }
}

/**
 * Technician. Says that the work of a job is done which has no joint whose signatures would say so. 409 `job-has-plan` for one
 * that has, 409 `mark-missing` with `blockers` while a position mark that comes before the work is not made, 409 `job-done` the
 * second time.
 */
export function completeJob(ctx: Context, id: string, input: CompletionInput): Completion {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    requireStandingJob(ctx, id)
    const job = jobById(ctx, id)
    if (!isDoneByWord(job)) {
      throw problem('job-has-plan', {
        detail: `The work of job ${job.letter}, ${job.task}, is done when its bolted joints are signed: do these.`,
      })
    }
    const missing = job.marks.filter(mark => mark.made_at === undefined && isBeforeWork(mark))
    if (missing.length > 0) {
      const texts = missing.map(mark => inText(mark.text)).join('; ')
      throw markMissing(
        `Before the work of job ${job.letter}, ${job.task}, is done: ${texts}.`,
        missing.map(mark => ({ ...mark, job_id: id })),
      )
    }
    if (job.completed_at !== undefined) {
      throw problem('job-done', {
        detail: `Job ${job.letter}, ${job.task}, was said to be done already.`,
      })
    }
    const record = newRecord(ctx)
    const row = { ...record, job_id: id, at: input.at === undefined ? record.created_at : fromInstant(input.at) }
    insertCompletion(tx, row)
    recordEvent(ctx, tx, { action: 'job.completed', table: 'jobs', id })
    return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
  })
}

/** 404 while nobody has said that the job is done. */
export function completionOfJob(ctx: Context, id: string): Completion {
  const row = findCompletions(ctx.read, requireJob(ctx, id).work_order_id).find(each => each.job_id === id)
  if (row === undefined) throw notFound('completion of the job', id)
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

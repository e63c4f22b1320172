import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Job, PartLine, ToolIn } from '../contract.ts'
import * as doings from '../queries/doings.ts'
import { findHandBack, type HandBackRow, type WorkOrderRow } from '../queries/orders.ts'
import * as plan from '../queries/plan.ts'
import { type SharedStep, sharedSteps } from '../rules/shared-steps.ts'
import { requireJob, requireOrder } from './known.ts'

/** A job with its plan and all that was done on it, as rows: instants in milliseconds. */
export interface PlannedJob extends plan.JobRow {
  voiding: doings.VoidingRow | null
  completion: doings.CompletionRow | null
  steps: plan.JobStepRow[]
  joints: plan.JobJointRow[]
  looks: plan.JobLookRow[]
  final_checks: plan.JobFinalCheckRow[]
  /** Those that are out again, too. */
  tools_in: doings.ToolInRow[]
  part_lines: doings.PartLineRow[]
}

/** Everything that is planned and done on a work order. */
export interface OrderPlan {
  order: WorkOrderRow
  hand_back: HandBackRow | null
  /** Every job, voided ones too, in the order in which they were added. */
  jobs: PlannedJob[]
  /** Every access step of every job, each once, after those it needs, with its state. */
  steps: SharedStep[]
  /** In the order in which they were written down. */
  openings: doings.OpeningRow[]
  closings: doings.ClosingRow[]
}

/** 404 for an unknown order. */
export function planOfOrder(ctx: Context, orderId: string): OrderPlan {
  const { read } = ctx
  const order = requireOrder(ctx, orderId)
  const steps = plan.findSteps(read, orderId)
  const openings = doings.findOpenings(read, orderId)
  const closings = doings.findClosings(read, orderId)
  const voidings = doings.findVoidings(read, orderId)
  const completions = doings.findCompletions(read, orderId)
  const parts = {
    steps: byJob(steps),
    joints: byJob(plan.findJoints(read, orderId)),
    looks: byJob(plan.findLooks(read, orderId)),
    final_checks: byJob(plan.findFinalChecks(read, orderId)),
    tools_in: byJob(doings.findToolsIn(read, orderId)),
    part_lines: byJob(doings.findPartLines(read, orderId)),
  }
  const jobs = plan.findJobsOfOrder(read, orderId).map(job => ({
    ...job,
    voiding: voidings.find(row => row.job_id === job.id) ?? null,
    completion: completions.find(row => row.job_id === job.id) ?? null,
    steps: parts.steps.get(job.id) ?? [],
    joints: parts.joints.get(job.id) ?? [],
    looks: parts.looks.get(job.id) ?? [],
    final_checks: parts.final_checks.get(job.id) ?? [],
    tools_in: parts.tools_in.get(job.id) ?? [],
    part_lines: parts.part_lines.get(job.id) ?? [],
  }))
  return {
    order,
    hand_back: findHandBack(read, orderId) ?? null,
    jobs,
    steps: sharedSteps(steps, openings, closings),
    openings,
    closings,
  }
}

function byJob<Row extends { job_id: string }>(rows: Row[]): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) groups.set(row.job_id, [...(groups.get(row.job_id) ?? []), row])
  return groups
}

/** The id of the order that a job is on. 404 when there is no such job. */
export function orderOfJob(ctx: Context, jobId: string): string {
  return requireJob(ctx, jobId).work_order_id
}

/** The plan of that order. */
export function planOfJob(ctx: Context, jobId: string): OrderPlan {
  return planOfOrder(ctx, orderOfJob(ctx, jobId))
}

/** One job with its plan and the state of its steps. 404 when there is none. */
export function jobById(ctx: Context, id: string): Job {
  const whole = planOfJob(ctx, id)
  return jobToWire(whole, whole.jobs.find(job => job.id === id)!)
}

/** In the order in which they were added, voided ones too. 404 for an unknown order. */
export function jobsOfOrder(ctx: Context, orderId: string): Job[] {
  const whole = planOfOrder(ctx, orderId)
  return whole.jobs.map(job => jobToWire(whole, job))
}

/** The vehicle that a job is on. 404 when there is no such job. */
export function vehicleOfJob(ctx: Context, jobId: string): string {
  return requireOrder(ctx, orderOfJob(ctx, jobId)).vehicle_id
}

/** A joint, look or final check where it stands: its job, its order, and whether anything may still be written on it. */
export interface Place {
  job: plan.JobRow
  order: WorkOrderRow
  voided: boolean
  handed_back: boolean
}

/** 404 when there is none. Records and signatures on a joint of a voided job stay possible: a joint once begun must end tight. */
export function jointById(ctx: Context, id: string): plan.JobJointRow & Place {
  const joint = plan.findJoint(ctx.read, id)
  if (joint === undefined) throw notFound('joint', id)
  return { ...joint, ...placeOf(ctx, joint.job_id) }
}

export function lookById(ctx: Context, id: string): plan.JobLookRow & Place {
  const look = plan.findLook(ctx.read, id)
  if (look === undefined) throw notFound('look', id)
  return { ...look, ...placeOf(ctx, look.job_id) }
}

export function finalCheckById(ctx: Context, id: string): plan.JobFinalCheckRow & Place {
  const finalCheck = plan.findFinalCheck(ctx.read, id)
  if (finalCheck === undefined) throw notFound('final check', id)
  return { ...finalCheck, ...placeOf(ctx, finalCheck.job_id) }
}

function placeOf(ctx: Context, jobId: string): Place {
  const job = requireJob(ctx, jobId)
  return {
    job,
    order: requireOrder(ctx, job.work_order_id),
    voided: doings.findVoiding(ctx.read, jobId) !== undefined,
    handed_back: findHandBack(ctx.read, job.work_order_id) !== undefined,
  }
}

function jobToWire(whole: OrderPlan, job: PlannedJob): Job {
  const { id, work_order_id, letter, operation_id, task, hours, warranty_days, warranty_km, settles_finding_id } = job
  return {
    ...{ id, created_by: job.created_by, created_at: toInstant(job.created_at), work_order_id, letter, task, hours },
    ...withoutNulls({ operation_id, warranty_days, warranty_km, settles_finding_id }),
    ...(job.voiding !== null && { voided_at: toInstant(job.voiding.created_at) }),
    ...(job.completion !== null && { completed_at: toInstant(job.completion.at) }),
    steps: job.steps.map(({ id: stepId, access_step_id, name, hours: stepHours, needs }) => {
      const { is_open, times_opened } = whole.steps.find(step => step.access_step_id === access_step_id)!
      return { id: stepId, access_step_id, name, hours: stepHours, needs, is_open, times_opened }
    }),
    joints: job.joints.map(({ job_id: _, created_at: _at, created_by: _by, ...joint }) => withoutNulls(joint)),
    looks: job.looks.map(({ job_id: _, created_at: _at, created_by: _by, ...look }) => withoutNulls(look)),
    final_checks: job.final_checks.map(({ id: checkId, text }) => ({ id: checkId, text })),
    tools_in: job.tools_in.map(tool => toolToWire(whole, tool)),
    part_lines: job.part_lines.map(partLineToWire),
  }
}

/** A tool's `before_step_id` goes out as it came in: as the id of a job's step, of its own job if that has the step. */
export function toolToWire(whole: Pick<OrderPlan, 'jobs'>, row: doings.ToolInRow): ToolIn {
  const { id, created_by, job_id, tool, before_step_id } = row
  const stepsOf = (own: boolean) => whole.jobs.filter(job => (job.id === job_id) === own).flatMap(job => job.steps)
  const step = [...stepsOf(true), ...stepsOf(false)].find(each => each.access_step_id === before_step_id)
  return {
    ...{ id, created_by, created_at: toInstant(row.created_at), job_id, tool, at: toInstant(row.at) },
    ...withoutNulls({ before_step_id: step?.id ?? before_step_id }),
    ...(row.removed_at !== null && { removed_at: toInstant(row.removed_at) }),
  }
}

export function partLineToWire(row: doings.PartLineRow): PartLine {
  const { created_by, created_at, batch, supplier_id, joint_id, ...rest } = row
  return { ...rest, created_by, created_at: toInstant(created_at), ...withoutNulls({ batch, supplier_id, joint_id }) }
}

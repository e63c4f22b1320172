import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import type { Job } from '../contract.ts'
import * as bench from '../queries/bench.ts'
import * as doings from '../queries/doings.ts'
import { findHandBack, type WorkOrderRow } from '../queries/orders.ts'
import * as plan from '../queries/plan.ts'
import { sharedSteps } from '../rules/shared-steps.ts'
import { jobToWire } from './job-wire.ts'
import { requireJob, requireOrder } from './known.ts'
import type { OrderPlan, ToolsOfPlan } from './order-plan.ts'

/** 404 for an unknown order. */
export function planOfOrder(ctx: Context, orderId: string): OrderPlan {
  const { read } = ctx
  const order = requireOrder(ctx, orderId)
  const steps = plan.findSteps(read, orderId)
  const openings = doings.findOpenings(read, orderId)
  const closings = doings.findClosings(read, orderId)
  const voidings = doings.findVoidings(read, orderId)
  const completions = doings.findCompletions(read, orderId)
  const partLines = doings.findPartLines(read, orderId)
  const made = new Map(bench.findMarkRecords(read, orderId).map(record => [record.mark_id, record]))
  const parts = {
    steps: byJob(steps),
    joints: byJob(plan.findJoints(read, orderId)),
    looks: byJob(plan.findLooks(read, orderId)),
    final_checks: byJob(plan.findFinalChecks(read, orderId)),
    marks: byJob(plan.findMarks(read, orderId).map(mark => ({ ...mark, made: made.get(mark.id) ?? null }))),
    tools: byJob(plan.findPlannedTools(read, orderId)),
    tools_in: byJob(doings.findToolsIn(read, orderId)),
    part_lines: byJob(partLines.filter(line => line.removal === null)),
    part_lines_off: byJob(partLines.filter(line => line.removal !== null)),
  }
  const jobs = plan.findJobsOfOrder(read, orderId).map(job => ({
    ...job,
    voiding: voidings.find(row => row.job_id === job.id) ?? null,
    completion: completions.find(row => row.job_id === job.id) ?? null,
    steps: parts.steps.get(job.id) ?? [],
    joints: parts.joints.get(job.id) ?? [],
    looks: parts.looks.get(job.id) ?? [],
    final_checks: parts.final_checks.get(job.id) ?? [],
    marks: parts.marks.get(job.id) ?? [],
    tools: parts.tools.get(job.id) ?? [],
    tools_in: parts.tools_in.get(job.id) ?? [],
    part_lines: parts.part_lines.get(job.id) ?? [],
    part_lines_off: parts.part_lines_off.get(job.id) ?? [],
  }))
  return {
    order,
    hand_back: findHandBack(read, orderId) ?? null,
    jobs,
    steps: sharedSteps(steps, openings, closings),
    openings,
    closings,
    engine_turns: bench.findEngineTurns(read, orderId),
    clocks: bench.findClocks(read, orderId),
  }
}

/** The tools that are still in the vehicle, with the steps that they may lie behind; no steps where no tool is in. */
export function toolsStillIn(ctx: Context, orderId: string): ToolsOfPlan {
  const { read } = ctx
  const tools_in = doings.findToolsIn(read, orderId).filter(tool => tool.removed_at === null)
  if (tools_in.length === 0) return { jobs: [], steps: [] }
  const steps = plan.findSteps(read, orderId)
  return {
    jobs: [{ tools_in }],
    steps: sharedSteps(steps, doings.findOpenings(read, orderId), doings.findClosings(read, orderId)),
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

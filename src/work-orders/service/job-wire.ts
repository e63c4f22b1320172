import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Job, JobTool, PartLine, ToolIn } from '../contract.ts'
import type { PartLineRow, ToolInRow } from '../queries/doings.ts'
import type { JobToolRow } from '../queries/plan.ts'
import type { OrderPlan, PlannedJob } from './order-plan.ts'

/** A job as it goes over the wire: with its plan, the state of its steps and what was done on it. */
export function jobToWire(whole: OrderPlan, job: PlannedJob): Job {
  const { id, work_order_id, letter, operation_id, task, hours, warranty_days, warranty_km, settles_finding_id } = job
  return {
    ...{ id, created_by: job.created_by, created_at: toInstant(job.created_at), work_order_id, letter, task, hours },
    ...withoutNulls({ operation_id, warranty_days, warranty_km, settles_finding_id }),
    ...(job.voiding !== null && { voided_at: toInstant(job.voiding.created_at) }),
    ...(job.completion !== null && { completed_at: toInstant(job.completion.at) }),
    ...{ turns_engine: job.turns_engine, sound_before_after: job.sound_before_after },
    steps: job.steps.map(({ id: stepId, access_step_id, name, hours: stepHours, needs }) => {
      const { is_open, times_opened } = whole.steps.find(step => step.access_step_id === access_step_id)!
      return { id: stepId, access_step_id, name, hours: stepHours, needs, is_open, times_opened }
    }),
    joints: job.joints.map(({ job_id: _, created_at: _at, created_by: _by, ...joint }) => withoutNulls(joint)),
    looks: job.looks.map(({ job_id: _, created_at: _at, created_by: _by, ...look }) => withoutNulls(look)),
    final_checks: job.final_checks.map(({ id: checkId, text }) => ({ id: checkId, text })),
    marks: job.marks.map(({ id: markId, text, behind_step_id, before_step_id, joint_id, photo, made }) => ({
      ...{ id: markId, text, ...withoutNulls({ behind_step_id, before_step_id, joint_id, photo }) },
      ...(made !== null && { made_at: toInstant(made.at) }),
    })),
    tools: job.tools.map(plannedToolToWire),
    tools_in: job.tools_in.map(tool => toolToWire(whole, tool)),
    part_lines: job.part_lines.map(partLineToWire),
  }
}

export function plannedToolToWire({ id, tool, count, for_step_id, before_step_id, omission }: JobToolRow): JobTool {
  return {
    ...{ id, tool, count, ...withoutNulls({ for_step_id, before_step_id }) },
    ...(omission !== null && {
      not_used: { at: toInstant(omission.created_at), by: omission.created_by, reason: omission.reason },
    }),
  }
}

/** A tool's steps go out as they came in: as the ids of a job's steps, of its own job if that has them. */
export function toolToWire(whole: Pick<OrderPlan, 'jobs'>, row: ToolInRow): ToolIn {
  const { id, created_by, job_id, tool, count, job_tool_id } = row
  const stepsOf = (own: boolean) => whole.jobs.filter(job => (job.id === job_id) === own).flatMap(job => job.steps)
  const steps = [...stepsOf(true), ...stepsOf(false)]
  const idOf = (stepId: string | null) => steps.find(each => each.access_step_id === stepId)?.id ?? stepId
  return {
    ...{ id, created_by, created_at: toInstant(row.created_at), job_id, tool, count, at: toInstant(row.at) },
    ...withoutNulls({
      for_step_id: idOf(row.for_step_id),
      before_step_id: idOf(row.before_step_id),
      job_tool_id,
    }),
    ...(row.removed_at !== null && { removed_at: toInstant(row.removed_at) }),
    ...(row.removed_at === null &&
      row.out_count !== null && { missing: { count: row.count - row.out_count, may_be: row.may_be ?? '' } }),
  }
}

export function partLineToWire(row: PartLineRow): PartLine {
  const { created_by, created_at, batch, supplier_id, joint_id, removal, ...rest } = row
  return {
    ...{ ...rest, created_by, created_at: toInstant(created_at), ...withoutNulls({ batch, supplier_id, joint_id }) },
    ...(removal !== null && {
      removed: { at: toInstant(removal.created_at), by: removal.created_by, reason: removal.reason },
    }),
  }
}

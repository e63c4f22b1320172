import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { JobTool, ToolIn, ToolInInput } from '../contract.ts'
import { findToolIn, insertToolIn, type ToolInRow } from '../queries/doings.ts'
import { insertToolOmission } from '../queries/plan.ts'
import { closedOver, type SharedStep } from '../rules/shared-steps.ts'
import { plannedToolToWire, toolToWire } from './job-wire.ts'
import { requireStandingJob } from './known.ts'
import type { OrderPlan } from './order-plan.ts'
import { planOfJob, planOfOrder } from './plan.ts'

/**
 * Technician. A tool was put into the vehicle and must come out before a step is closed; one that names none, before any is.
 * `for_step_id` and `before_step_id` are steps of any job of the order, `job_tool_id` a tool of this job's plan; 409
 * `step-not-open` when the step before which it must be out, or one that it needs, was closed again already, since a tool
 * cannot get behind it now.
 */
export function putToolIn(ctx: Context, jobId: string, input: ToolInInput): ToolIn {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const job = requireStandingJob(ctx, jobId)
    const plan = planOfOrder(ctx, job.work_order_id)
    const record = newRecord(ctx)
    const row = {
      ...record,
      job_id: jobId,
      tool: input.tool,
      count: input.count ?? 1,
      ...together({
        for_step_id: () => stepOf(plan, '/for_step_id', input.for_step_id)?.access_step_id ?? null,
        before_step_id: () => stepBefore(plan, input.before_step_id),
        job_tool_id: () => plannedTool(plan, jobId, input.job_tool_id),
      }),
      at: input.at === undefined ? record.created_at : fromInstant(input.at),
    }
    insertToolIn(tx, row)
    recordEvent(ctx, tx, { action: 'tool.put-in', table: 'tools_in', id: row.id })
    return toolToWire(plan, { ...row, ...STILL_IN })
  })
}

const STILL_IN = {
  ...{ removed_at: null, removed_by: null, not_inside: null },
  ...{ out_count: null, may_be: null, short_at: null, short_by: null },
}

function stepOf({ steps }: OrderPlan, pointer: string, stepId: string | undefined): SharedStep | undefined {
  if (stepId === undefined) return undefined
  const step = steps.find(each => each.access_step_id === stepId || each.job_step_ids.includes(stepId))
  if (step !== undefined) return step
  throw invalid({ pointer, detail: `No job of this order has a step with the id ${stepId}.`, code: 'unknown' })
}

function stepBefore(plan: OrderPlan, stepId: string | undefined): string | null {
  const step = stepOf(plan, '/before_step_id', stepId)
  if (step === undefined) return null
  const closed = closedOver(plan.steps, step)
  if (closed !== undefined) {
    throw problem('step-not-open', {
      detail: `"${closed.name}" is closed again: open it first, or name the step that is still open over the tool.`,
    })
  }
  return step.access_step_id
}

function plannedTool({ jobs }: OrderPlan, jobId: string, toolId: string | undefined): string | null {
  if (toolId === undefined) return null
  if (jobs.find(job => job.id === jobId)!.tools.some(tool => tool.id === toolId)) return toolId
  const detail = `The plan of this job has no tool with the id ${toolId}.`
  throw invalid({ pointer: '/job_tool_id', detail, code: 'unknown' })
}

/**
 * Technician. A tool of the plan was not put in, with the reason. 404 when the job's plan has no such tool, 409 `tool-not-to-come`
 * when it went in, or somebody has said so before.
 */
export function leaveToolOut(ctx: Context, jobId: string, toolId: string, reason: string): JobTool {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const { work_order_id } = requireStandingJob(ctx, jobId)
    const job = planOfOrder(ctx, work_order_id).jobs.find(each => each.id === jobId)
    const tool = job?.tools.find(each => each.id === toolId)
    if (job === undefined || tool === undefined) throw notFound('tool in the plan of this job', toolId)
    if (tool.omission !== null) {
      throw problem('tool-not-to-come', { detail: `It was said before why it was not used: ${tool.omission.reason}` })
    }
    if (job.tools_in.some(each => each.job_tool_id === toolId)) {
      throw problem('tool-not-to-come', { detail: `${tool.tool} went in: see the job card.` })
    }
    const omission = { ...newRecord(ctx), job_tool_id: toolId, reason }
    insertToolOmission(tx, omission)
    recordEvent(ctx, tx, { action: 'tool.not-used', table: 'tool_omissions', id: omission.id })
    return plannedToolToWire({ ...tool, omission })
  })
}

/** 404 when there is none. */
export function toolInById(ctx: Context, id: string): ToolIn {
  const tool = requireTool(ctx, id)
  return toolToWire(planOfJob(ctx, tool.job_id), tool)
}

/** 404 when there is none. */
export function requireTool(ctx: Context, id: string): ToolInRow {
  const tool = findToolIn(ctx.read, id)
  if (tool === undefined) throw notFound('tool in a vehicle', id)
  return tool
}

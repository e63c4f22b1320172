import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import type { Removal, RemovalInput, ToolIn, ToolInInput } from '../contract.ts'
import { findRemoval, findToolIn, insertRemoval, insertToolIn, type ToolInRow } from '../queries/doings.ts'
import { closedOver } from '../rules/shared-steps.ts'
import { requireJob, requireOrderInHouse, requireStandingJob } from './known.ts'
import { planOfJob, planOfOrder, toolToWire } from './plan.ts'
import { instantNotBefore } from './steps.ts'

/**
 * Technician. A tool was put into the vehicle and must come out before a step is closed, else before hand-back.
 * `before_step_id` is a step of any job of the order; 409 `step-not-open` when that step, or one that it needs, was closed
 * again already, since a tool cannot get behind it now.
 */
export function putToolIn(ctx: Context, jobId: string, input: ToolInInput): ToolIn {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const job = requireStandingJob(ctx, jobId)
    const record = newRecord(ctx)
    const row = {
      ...record,
      job_id: jobId,
      tool: input.tool,
      count: 1,
      for_step_id: null,
      job_tool_id: null,
      before_step_id:
        input.before_step_id === undefined ? null : stepBefore(ctx, job.work_order_id, input.before_step_id),
      at: input.at === undefined ? record.created_at : fromInstant(input.at),
    }
    insertToolIn(tx, row)
    recordEvent(ctx, tx, { action: 'tool.put-in', table: 'tools_in', id: row.id })
    return toolToWire(planOfOrder(ctx, job.work_order_id), { ...row, removed_at: null })
  })
}

function stepBefore(ctx: Context, orderId: string, stepId: string): string {
  const { steps } = planOfOrder(ctx, orderId)
  const step = steps.find(each => each.access_step_id === stepId || each.job_step_ids.includes(stepId))
  if (step === undefined) {
    const detail = `No job of this order has a step with the id ${stepId}.`
    throw invalid({ pointer: '/before_step_id', detail, code: 'unknown' })
  }
  const closed = closedOver(steps, step)
  if (closed !== undefined) {
    throw problem('step-not-open', {
      detail: `"${closed.name}" is closed again: open it first, or name the step that is still open over the tool.`,
    })
  }
  return step.access_step_id
}

/** Technician. The tool is out: also when its job was voided meanwhile. 409 `tool-out` when it was out already. */
export function takeToolOut(ctx: Context, id: string, input: RemovalInput): Removal {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const tool = requireTool(ctx, id)
    requireOrderInHouse(ctx, requireJob(ctx, tool.job_id).work_order_id)
    if (tool.removed_at !== null) {
      throw problem('tool-out', { detail: `"${tool.tool}" was taken out at ${toInstant(tool.removed_at)}.` })
    }
    const record = newRecord(ctx)
    const at = instantNotBefore(input.at, record.created_at, tool.at, 'It was put in at')
    const row = { ...record, tool_in_id: id, at }
    insertRemoval(tx, row)
    recordEvent(ctx, tx, { action: 'tool.taken-out', table: 'tools_in', id })
    return { ...row, created_at: toInstant(row.created_at), at: toInstant(at) }
  })
}

/** 404 when there is none. */
export function toolInById(ctx: Context, id: string): ToolIn {
  const tool = requireTool(ctx, id)
  return toolToWire(planOfJob(ctx, tool.job_id), tool)
}

/** 404 while the tool is in. */
export function removalOfTool(ctx: Context, id: string): Removal {
  requireTool(ctx, id)
  const row = findRemoval(ctx.read, id)
  if (row === undefined) throw notFound('removal of the tool', id)
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

function requireTool(ctx: Context, id: string): ToolInRow {
  const tool = findToolIn(ctx.read, id)
  if (tool === undefined) throw notFound('tool in a vehicle', id)
  return tool
}

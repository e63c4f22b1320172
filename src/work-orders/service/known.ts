import type { Context } from '../../platform/context.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { findVoiding } from '../queries/doings.ts'
import { findHandBack, findWorkOrder, type WorkOrderRow } from '../queries/orders.ts'
import { findJob, type JobRow } from '../queries/plan.ts'

/** The order of an id. 404 when there is none. */
export function requireOrder(ctx: Context, id: string): WorkOrderRow {
  const order = findWorkOrder(ctx.read, id)
  if (order === undefined) throw notFound('work order', id)
  return order
}

/** An order that may still be changed: 409 once it was handed back. */
export function requireOrderInHouse(ctx: Context, id: string): WorkOrderRow {
  const order = requireOrder(ctx, id)
  if (findHandBack(ctx.read, id) !== undefined) {
    throw problem('work-order-handed-back', {
      detail: `Work order ${order.number} was handed back. Open a new work order for what comes after.`,
    })
  }
  return order
}

export function requireJob(ctx: Context, id: string): JobRow {
  const job = findJob(ctx.read, id)
  if (job === undefined) throw notFound('job', id)
  return job
}

/** A job that takes new work: neither voided nor handed back. */
export function requireStandingJob(ctx: Context, id: string): JobRow {
  const job = requireJob(ctx, id)
  requireOrderInHouse(ctx, job.work_order_id)
  const voiding = findVoiding(ctx.read, id)
  if (voiding !== undefined) {
    throw problem('job-voided', { detail: `Job ${job.letter}, ${job.task}, was voided: ${voiding.reason}` })
  }
  return job
}

import type { Context } from '../../platform/context.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { invalid } from '../../platform/problems.ts'
import { planOfOrder } from '../../work-orders/index.ts'

export function standingJobs(ctx: Context, orderId: string) {
  return planOfOrder(ctx, orderId).jobs.filter(job => job.voiding === null)
}

export function jobChoices(ctx: Context, orderId: string): Choice[] {
  return standingJobs(ctx, orderId).map(({ id, letter, task }) => ({ value: id, label: `${letter} ${task}` }))
}

/** A job that a form names: 422 when it is none of this order. */
export function requireJobOf(ctx: Context, orderId: string, jobId: string) {
  const job = planOfOrder(ctx, orderId).jobs.find(each => each.id === jobId)
  if (job !== undefined) return job
  throw invalid({ pointer: '/job_id', detail: 'No job of this order is called so.', code: 'unknown' })
}

import { notTheCustomers } from '../../comebacks/index.ts'
import type { Context } from '../../platform/context.ts'
import {
  isJobDone,
  type OrderPlan,
  type PlannedJob,
  partBoxesOfOrder,
  placeOfBox,
  provesItself,
} from '../../work-orders/index.ts'
import { type Question, questionsOf, type UnsaidTool } from '../rules/ask-first.ts'

/**
 * What is asked before the vehicle of an order leaves; of one that has left, what nobody had said then.
 *
 * @param gross_minor what the customer is asked for, tax included: so far, or on the invoice.
 */
export function questionsToAsk(ctx: Context, plan: OrderPlan, gross_minor: number): Question[] {
  const standing = plan.jobs.filter(job => job.voiding === null)
  const unsaid = standing.filter(job => !provesItself(job) && !isSaidDone(plan, job))
  const boxes = partBoxesOfOrder(ctx, plan.order.id).flatMap(box => {
    const place = placeOfBox(box)
    return place === null ? [] : [{ what: box.what, place }]
  })
  const comeback = gross_minor > 0 ? notTheCustomers(ctx, plan.order.id) : null
  return questionsOf(
    plan.order.id,
    standing,
    unsaid,
    standing.flatMap(job => unsaidTools(plan, job)),
    boxes,
    comeback,
  )
}

/** Of steps that were opened: while they are not, the tool may still go in. */
function unsaidTools(plan: OrderPlan, job: PlannedJob): UnsaidTool[] {
  const wasOpened = (id: string | null) =>
    plan.steps.some(
      step => step.job_ids.includes(job.id) && step.times_opened > 0 && (id === null || step.access_step_id === id),
    )
  return job.tools
    .filter(tool => tool.omission === null && job.tools_in.every(put => put.job_tool_id !== tool.id))
    .filter(tool => wasOpened(tool.for_step_id))
    .map(({ tool }) => ({ job_id: job.id, tool }))
}

/** Said in words, or by a strip-down that was opened and closed again; while a step is open that blocks by itself. */
function isSaidDone(plan: OrderPlan, job: PlannedJob): boolean {
  const steps = plan.steps.filter(step => step.job_ids.includes(job.id))
  if (steps.some(step => step.is_open)) return true
  const nothing = { joints: [], looks: [], final_checks: [], turned_by_hand: null }
  return isJobDone({ steps, ...nothing, completed: job.completion !== null })
}

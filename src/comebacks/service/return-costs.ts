import { settingsOf } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { labourOfPlan, planOfOrder } from '../../work-orders/index.ts'
import { recoveredForStay } from '../queries/recoveries.ts'
import { type CostOfReturn, costOfReturn, statedCost } from '../rules/return-cost.ts'
import type { FirstComeback } from './first-comebacks.ts'

/** What a stay cost us, as known before an instant; null while the vehicle was known to be here. */
export function costOfStay(ctx: Context, orderId: string, before: number): CostOfReturn | null {
  const plan = planOfOrder(ctx, orderId)
  const handBack = plan.hand_back
  if (handBack === null || handBack.created_at >= before) return null
  return costOfReturn(
    {
      hours: labourOfPlan(plan).hours_together,
      parts: plan.jobs.filter(job => job.voiding === null).flatMap(job => job.part_lines),
      lines: handBack.lines,
      discount_minor: handBack.discount_minor,
      gross_minor: handBack.gross_minor,
      borne_minor: handBack.borne_minor ?? 0,
      recovered_minor: recoveredForStay(ctx.read, orderId, before),
    },
    settingsOf(ctx).cost_rate_minor,
  )
}

/** What a comeback cost us in all; null where nobody stated it, or the vehicle was still here. */
export function costOfComeback(ctx: Context, { stay_id, stated }: FirstComeback, before: number): number | null {
  const cost = stay_id === null ? statedCost(stated) : costOfStay(ctx, stay_id, before)
  return cost?.total_minor ?? null
}

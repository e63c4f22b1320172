import { settingsOf } from '../../accounts/index.ts'
import { sumMinor } from '../../core/money.ts'
import type { Context } from '../../platform/context.ts'
import { labourOfPlan, planOfOrder } from '../../work-orders/index.ts'
import type { ReturnCost } from '../contract.ts'
import { costOfReturn } from '../rules/return-cost.ts'

/** What a stay cost us that was handed back. */
export function costOfStay(ctx: Context, orderId: string): ReturnCost | null {
  const plan = planOfOrder(ctx, orderId)
  const handBack = plan.hand_back
  if (handBack === null) return null
  return costOfReturn(
    {
      hours: labourOfPlan(plan).hours_together,
      parts: plan.jobs.filter(job => job.voiding === null).flatMap(job => job.part_lines),
      lines: handBack.lines,
      discount_minor: handBack.discount_minor,
      gross_minor: handBack.gross_minor,
      borne_minor: handBack.borne_minor ?? 0,
    },
    settingsOf(ctx).cost_rate_minor,
  )
}

/** An imported return states what labour and parts cost the shop; null when it states neither. */
export function importedCost(row: {
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
}): ReturnCost | null {
  if (row.labour_minor === null && row.parts_minor === null) return null
  const [labour_minor, parts_minor] = [row.labour_minor ?? 0, row.parts_minor ?? 0]
  return {
    hours_not_billed: row.hours,
    ...{ labour_minor, parts_minor, goodwill_minor: 0 },
    total_minor: sumMinor([labour_minor, parts_minor]),
  }
}

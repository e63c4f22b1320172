import { asKnown } from '../../history/index.ts'
import { allSuppliers } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import { type DecisionRow, standingDecisionsOn } from '../queries/decisions.ts'
import { type RecoveryRow, standingRecoveriesOn } from '../queries/recoveries.ts'
import { jobTitles } from '../queries/titles.ts'
import { type CostOfReturn, isFree } from '../rules/return-cost.ts'
import { decisionOnWire } from './decisions.ts'
import { costOfStay } from './return-costs.ts'
import { earlierIdOf, readableAt } from './suspicions.ts'
import { type ToldDecision, withNames } from './told.ts'

/** A claim on a supplier as it stands. */
export interface StayClaim extends Pick<RecoveryRow, 'state' | 'amount_minor' | 'deadline_on'> {
  supplier: string
}

/** What a stay is as a comeback. */
export interface StayComebacks {
  /** The comebacks that were confirmed, each with where it is read. */
  confirmed: (ToldDecision & { href: string })[]
  claims: StayClaim[]
  /** What the stay cost us; null while the vehicle is here, and where nothing is confirmed. */
  cost: CostOfReturn | null
}

/** Of which jobs a stay is a confirmed comeback, what became of the claims for it, and what it cost us. */
export function comebacksOfStay(ctx: Context, orderId: string): StayComebacks {
  const rows = confirmedOn(ctx, orderId)
  if (rows.length === 0) return { confirmed: [], claims: [], cost: null }
  const suppliers = new Map(allSuppliers(ctx).map(({ id, name }) => [id, name]))
  return {
    confirmed: withNames(ctx, rows.map(decisionOnWire)).map(told => ({
      ...told,
      href: readableAt(ctx, told.about.earlier_job_id, orderId),
    })),
    claims: standingRecoveriesOn(ctx.read, orderId).map(({ supplier_id, state, amount_minor, deadline_on }) => ({
      ...{ state, amount_minor, deadline_on },
      supplier: suppliers.get(supplier_id)!,
    })),
    cost: costOfStay(ctx, orderId, asKnown(ctx).before),
  }
}

/** The earlier job of a confirmed comeback for which it was decided that the customer pays nothing; null without one. */
export function notTheCustomers(ctx: Context, orderId: string): { task: string; payer: 'us' | 'supplier' } | null {
  for (const row of confirmedOn(ctx, orderId)) {
    const { borne_by } = row
    const id = earlierIdOf(row)
    if (isFree(borne_by)) return { task: jobTitles(ctx.read, [id]).get(id)!.task, payer: borne_by }
  }
  return null
}

function confirmedOn(ctx: Context, orderId: string): DecisionRow[] {
  return standingDecisionsOn(ctx.read, orderId).filter(row => row.decision === 'confirmed')
}

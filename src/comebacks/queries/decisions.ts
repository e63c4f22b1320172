import { and, desc, eq, inArray, isNull, lt, type SQL, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/sqlite-core'
import type { Read, Tx } from '../../platform/database/types.ts'
import { comeback_decisions } from '../schema.ts'

export type DecisionRow = typeof comeback_decisions.$inferSelect & { superseded_by: string | null }

const newer = alias(comeback_decisions, 'newer')

export function insertDecision(tx: Tx, row: typeof comeback_decisions.$inferSelect): void {
  tx.insert(comeback_decisions).values(row).run()
}

function decisions(read: Read, ...conditions: (SQL | undefined)[]) {
  return read
    .select({ decision: comeback_decisions, superseded_by: newer.id })
    .from(comeback_decisions)
    .leftJoin(newer, eq(newer.supersedes_id, comeback_decisions.id))
    .where(and(...conditions))
    .orderBy(desc(comeback_decisions.id))
}

function flat(
  rows: { decision: typeof comeback_decisions.$inferSelect; superseded_by: string | null }[],
): DecisionRow[] {
  return rows.map(({ decision, superseded_by }) => ({ ...decision, superseded_by }))
}

export function decisionById(read: Read, id: string): DecisionRow | undefined {
  return flat(decisions(read, eq(comeback_decisions.id, id)).all())[0]
}

/** Newest first, after an id. */
export function pageOfDecisions(read: Read, limit: number, after: string | null): DecisionRow[] {
  const condition = after === null ? undefined : lt(comeback_decisions.id, after)
  return flat(decisions(read, condition).limit(limit).all())
}

/** Those that no later one has put in their place. */
export function standingDecisions(read: Read): DecisionRow[] {
  return flat(decisions(read, isNull(newer.id)).all())
}

/** Those of the stays of one vehicle. */
export function standingDecisionsOf(read: Read, vehicleId: string): DecisionRow[] {
  const ofVehicle = sql`${comeback_decisions.later_work_order_id} in (select id from work_orders where vehicle_id = ${vehicleId})`
  return flat(decisions(read, isNull(newer.id), ofVehicle).all())
}

/** Those of one stay. */
export function standingDecisionsOn(read: Read, laterId: string): DecisionRow[] {
  return flat(decisions(read, isNull(newer.id), eq(comeback_decisions.later_work_order_id, laterId)).all())
}

/** Of one earlier job and one later stay, newest first. */
export function decisionsOn(read: Read, earlierId: string, laterId: string): DecisionRow[] {
  const earlier = sql`coalesce(${comeback_decisions.earlier_job_id}, ${comeback_decisions.earlier_history_event_id}) = ${earlierId}`
  return flat(decisions(read, earlier, inArray(comeback_decisions.later_work_order_id, [laterId])).all())
}

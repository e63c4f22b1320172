import { asc, desc, eq, inArray } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { authorisations, estimates, talks, work_orders } from '../schema.ts'

export type TalkRow = typeof talks.$inferSelect
export type EstimateRow = typeof estimates.$inferSelect
export type AuthorisationRow = typeof authorisations.$inferSelect

export function insertTalk(tx: Tx, row: TalkRow): void {
  tx.insert(talks).values(row).run()
}

/** Oldest first; so are estimates and authorisations. */
export function findTalks(read: Read, orderId: string): TalkRow[] {
  return read.select().from(talks).where(eq(talks.work_order_id, orderId)).orderBy(asc(talks.id)).all()
}

export function insertEstimate(tx: Tx, row: EstimateRow): void {
  tx.insert(estimates).values(row).run()
}

export function findEstimates(read: Read, orderId: string): EstimateRow[] {
  return read.select().from(estimates).where(eq(estimates.work_order_id, orderId)).orderBy(asc(estimates.version)).all()
}

export function findNewestEstimate(read: Read, orderId: string): EstimateRow | undefined {
  return read
    .select()
    .from(estimates)
    .where(eq(estimates.work_order_id, orderId))
    .orderBy(desc(estimates.version))
    .limit(1)
    .get()
}

export function insertAuthorisation(tx: Tx, row: AuthorisationRow): void {
  tx.insert(authorisations).values(row).run()
}

export function findAuthorisations(read: Read, orderId: string): AuthorisationRow[] {
  return read
    .select()
    .from(authorisations)
    .where(eq(authorisations.work_order_id, orderId))
    .orderBy(asc(authorisations.id))
    .all()
}

/** What stands in place of a person's words after they were erased. */
const ERASED = 'erased'

/** Empties the personal words of orders and gives each row a new salt, so that its old digest in the chain tells nothing. */
export function eraseWords(tx: Tx, orderIds: string[], newSalt: () => string, now: number): void {
  for (const { id, version } of tx.select().from(work_orders).where(inArray(work_orders.id, orderIds)).all()) {
    tx.update(work_orders)
      .set({ complaint: ERASED, arrival_note: null, salt: newSalt(), updated_at: now, version: version + 1 })
      .where(eq(work_orders.id, id))
      .run()
  }
  for (const { id } of tx.select({ id: talks.id }).from(talks).where(inArray(talks.work_order_id, orderIds)).all()) {
    tx.update(talks).set({ with: ERASED, said: ERASED, promised: null, salt: newSalt() }).where(eq(talks.id, id)).run()
  }
  const yeses = tx
    .select({ id: authorisations.id })
    .from(authorisations)
    .where(inArray(authorisations.work_order_id, orderIds))
    .all()
  for (const { id } of yeses) {
    tx.update(authorisations).set({ said_by: ERASED, salt: newSalt() }).where(eq(authorisations.id, id)).run()
  }
}

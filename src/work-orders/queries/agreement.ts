import { asc, desc, eq, getTableColumns, inArray, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { authorisation_withdrawals, authorisations, estimates, talks, work_orders } from '../schema.ts'

export type TalkRow = typeof talks.$inferSelect
export type EstimateRow = typeof estimates.$inferSelect
export type AuthorisationRow = typeof authorisations.$inferSelect
export type KnownAuthorisation = AuthorisationRow & { withdrawal: typeof authorisation_withdrawals.$inferSelect | null }

export const insertTalk = hotInsert(talks)

const talksOfOrder = hot((read: Read) =>
  read
    .select()
    .from(talks)
    .where(eq(talks.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(talks.id))
    .prepare(),
)

/** Oldest first; so are estimates and authorisations. */
export function findTalks(read: Read, orderId: string): TalkRow[] {
  return talksOfOrder(read).all({ orderId })
}

export const insertEstimate = hotInsert(estimates)

const estimatesOfOrder = hot((read: Read) =>
  read
    .select()
    .from(estimates)
    .where(eq(estimates.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(estimates.version))
    .prepare(),
)

export function findEstimates(read: Read, orderId: string): EstimateRow[] {
  return estimatesOfOrder(read).all({ orderId })
}

const newestEstimate = hot((read: Read) =>
  read
    .select()
    .from(estimates)
    .where(eq(estimates.work_order_id, sql.placeholder('orderId')))
    .orderBy(desc(estimates.version))
    .prepare(),
)

export function findNewestEstimate(read: Read, orderId: string): EstimateRow | undefined {
  return newestEstimate(read).get({ orderId })
}

export const insertAuthorisation = hotInsert(authorisations)

export const insertAuthorisationWithdrawal = hotInsert(authorisation_withdrawals)

const authorisationsOfOrder = hot((read: Read) =>
  read
    .select({ ...getTableColumns(authorisations), withdrawal: authorisation_withdrawals })
    .from(authorisations)
    .leftJoin(authorisation_withdrawals, eq(authorisation_withdrawals.authorisation_id, authorisations.id))
    .where(eq(authorisations.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(authorisations.id))
    .prepare(),
)

/** Those withdrawn too. */
export function findAuthorisations(read: Read, orderId: string): KnownAuthorisation[] {
  return authorisationsOfOrder(read).all({ orderId })
}

/** What stands in place of a person's words after they were erased. */
const ERASED = 'erased'

/** Empties the personal words of orders and gives each row a new salt, so that its old digest in the chain tells nothing. */
export function eraseWords(tx: Tx, orderIds: string[], newSalt: () => string, now: number): void {
  for (const { id, version } of tx.select().from(work_orders).where(inArray(work_orders.id, orderIds)).all()) {
    tx.update(work_orders)
      .set({
        complaint: ERASED,
        arrival_note: null,
        belongings: null,
        keys: null,
        salt: newSalt(),
        updated_at: now,
        version: version + 1,
      })
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

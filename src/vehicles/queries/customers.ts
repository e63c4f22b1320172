import { desc, eq, lt, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { customer_erasures, customers } from '../schema.ts'

export type CustomerRow = typeof customers.$inferSelect

export const insertCustomer = hotInsert(customers)

export function updateCustomerRow(tx: Tx, row: CustomerRow): void {
  tx.update(customers).set(row).where(eq(customers.id, row.id)).run()
}

const customerOfId = hot((read: Read) =>
  read
    .select()
    .from(customers)
    .where(eq(customers.id, sql.placeholder('id')))
    .prepare(),
)

export function customerRow(read: Read, id: string): CustomerRow | undefined {
  return customerOfId(read).get({ id })
}

const customersOfIds = hot((read: Read) => read.select().from(customers).where(isAmong(customers.id, 'ids')).prepare())

export function customerRowsByIds(read: Read, ids: readonly string[]): CustomerRow[] {
  return customersOfIds(read).all({ ids: idList(ids) })
}

/** Newest first; `after` is the id that the page before ended with. */
export function customerRows(read: Read, page: { limit: number; after: string | null }): CustomerRow[] {
  return read
    .select()
    .from(customers)
    .where(page.after === null ? undefined : lt(customers.id, page.after))
    .orderBy(desc(customers.id))
    .limit(page.limit)
    .all()
}

export type ErasureRow = typeof customer_erasures.$inferSelect

export const insertErasure = hotInsert(customer_erasures)

export function erasureOf(read: Read, customerId: string): ErasureRow | undefined {
  return read.select().from(customer_erasures).where(eq(customer_erasures.customer_id, customerId)).get()
}

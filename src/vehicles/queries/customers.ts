import { and, desc, eq, inArray, lt, sql } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { customers } from '../schema.ts'

export type CustomerRow = typeof customers.$inferSelect

export function insertCustomer(tx: Tx, row: CustomerRow): void {
  tx.insert(customers).values(row).run()
}

export function updateCustomerRow(tx: Tx, row: CustomerRow): void {
  tx.update(customers).set(row).where(eq(customers.id, row.id)).run()
}

export function customerRow(read: Read, id: string): CustomerRow | undefined {
  return read.select().from(customers).where(eq(customers.id, id)).get()
}

export function customerRowsByIds(read: Read, ids: readonly string[]): CustomerRow[] {
  if (ids.length === 0) return []
  return read
    .select()
    .from(customers)
    .where(inArray(customers.id, [...new Set(ids)]))
    .all()
}

/** Newest first; `words` are folded and must all be found; `after` is the id that the page before ended with. */
export function customerRows(
  read: Read,
  words: string[],
  page: { limit: number; after: string | null },
): CustomerRow[] {
  return read
    .select()
    .from(customers)
    .where(
      and(
        page.after === null ? undefined : lt(customers.id, page.after),
        ...words.map(word => sql`${customers.find_key} like ${`%${word}%`}`),
      ),
    )
    .orderBy(desc(customers.id))
    .limit(page.limit)
    .all()
}

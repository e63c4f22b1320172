import { asc, desc, eq, lt, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../platform/database/hot.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { parts, suppliers } from './schema.ts'

export type PartRow = typeof parts.$inferSelect
export type SupplierRow = typeof suppliers.$inferSelect

export const insertPart = hotInsert(parts)

export function updatePartRow(tx: Tx, row: PartRow): void {
  tx.update(parts).set(row).where(eq(parts.id, row.id)).run()
}

const partOfId = hot((read: Read) =>
  read
    .select()
    .from(parts)
    .where(eq(parts.id, sql.placeholder('id')))
    .prepare(),
)

export function partRow(read: Read, id: string): PartRow | undefined {
  return partOfId(read).get({ id })
}

/** Newest first; `after` is the id that the page before ended with. */
export function partRows(read: Read, limit: number, after: string | null): PartRow[] {
  const older = after === null ? undefined : lt(parts.id, after)
  return read.select().from(parts).where(older).orderBy(desc(parts.id)).limit(limit).all()
}

const allParts = hot((read: Read) => read.select().from(parts).orderBy(asc(parts.name), asc(parts.number)).prepare())

/** By name, then by number. */
export function allPartRows(read: Read): PartRow[] {
  return allParts(read).all()
}

export const insertSupplier = hotInsert(suppliers)

export function updateSupplierRow(tx: Tx, row: SupplierRow): void {
  tx.update(suppliers).set(row).where(eq(suppliers.id, row.id)).run()
}

const supplierOfId = hot((read: Read) =>
  read
    .select()
    .from(suppliers)
    .where(eq(suppliers.id, sql.placeholder('id')))
    .prepare(),
)

export function supplierRow(read: Read, id: string): SupplierRow | undefined {
  return supplierOfId(read).get({ id })
}

export function supplierRows(read: Read, limit: number, after: string | null): SupplierRow[] {
  const older = after === null ? undefined : lt(suppliers.id, after)
  return read.select().from(suppliers).where(older).orderBy(desc(suppliers.id)).limit(limit).all()
}

/** By name. */
export function allSupplierRows(read: Read): SupplierRow[] {
  return read.select().from(suppliers).orderBy(sql`lower(${suppliers.name})`).all()
}

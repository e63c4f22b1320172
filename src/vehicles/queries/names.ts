import { asc, eq } from 'drizzle-orm'
import { nameKey } from '../../core/name-key.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import type { families, variants } from '../schema.ts'

export type NamedRow = typeof families.$inferSelect
export type NameTable = typeof families | typeof variants

export function insertName(tx: Tx, table: NameTable, row: NamedRow): void {
  tx.insert(table).values(row).run()
}

/** The row of that name: as written, else one that differs in case or blanks only. */
export function rowOfName(read: Read, table: NameTable, name: string): NamedRow | undefined {
  const exact = read.select().from(table).where(eq(table.name, name)).get()
  return exact ?? allNames(read, table).find(row => nameKey(row.name) === nameKey(name))
}

/** By name. */
export function allNames(read: Read, table: NameTable): NamedRow[] {
  return read.select().from(table).orderBy(asc(table.name)).all()
}

export function nameById(read: Read, table: NameTable, id: string): NamedRow | undefined {
  return read.select().from(table).where(eq(table.id, id)).get()
}

import { asc, eq, sql } from 'drizzle-orm'
import { nameKey } from '../../core/name-key.ts'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import type { families, variants } from '../schema.ts'

export type NamedRow = typeof families.$inferSelect
export type NameTable = typeof families | typeof variants

const insertInto = hot((table: NameTable) => hotInsert(table))

export function insertName(tx: Tx, table: NameTable, row: NamedRow): void {
  insertInto(table)(tx, row)
}

const rowOfExactName = hot((table: NameTable) =>
  hot((read: Read) =>
    read
      .select()
      .from(table)
      .where(eq(table.name, sql.placeholder('name')))
      .prepare(),
  ),
)

/** The row of that name: as written, else one that differs in case or blanks only. */
export function rowOfName(read: Read, table: NameTable, name: string): NamedRow | undefined {
  return (
    rowOfExactName(table)(read).get({ name }) ?? allNames(read, table).find(row => nameKey(row.name) === nameKey(name))
  )
}

const rowsByName = hot((table: NameTable) =>
  hot((read: Read) => read.select().from(table).orderBy(asc(table.name)).prepare()),
)

/** By name. */
export function allNames(read: Read, table: NameTable): NamedRow[] {
  return rowsByName(table)(read).all()
}

const rowOfId = hot((table: NameTable) =>
  hot((read: Read) =>
    read
      .select()
      .from(table)
      .where(eq(table.id, sql.placeholder('id')))
      .prepare(),
  ),
)

export function nameById(read: Read, table: NameTable, id: string): NamedRow | undefined {
  return rowOfId(table)(read).get({ id })
}

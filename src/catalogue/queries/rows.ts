import { asc, desc, eq, lt, sql } from 'drizzle-orm'
import { nameKey } from '../../core/name-key.ts'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { access_steps, components, failure_modes, operations, procedures, symptoms } from '../schema.ts'

/** The tables of the catalogue whose records go by a unique name. */
export const NAMED = { symptoms, failure_modes, components, access_steps, operations, procedures } as const
export type NamedTable = (typeof NAMED)[keyof typeof NAMED]
export type EditableTable = typeof components | typeof access_steps | typeof operations

export type SymptomRow = typeof symptoms.$inferSelect
export type ComponentRow = typeof components.$inferSelect
export type AccessStepRow = typeof access_steps.$inferSelect
export type OperationRow = typeof operations.$inferSelect

const insertInto = hot((table: NamedTable) => hotInsert(table))

export function insertRow<T extends NamedTable>(tx: Tx, table: T, row: T['$inferSelect']): void {
  insertInto(table)(tx, row)
}

export function updateRow<T extends EditableTable>(tx: Tx, table: T, row: T['$inferSelect']): void {
  tx.update(table as EditableTable)
    .set(row)
    .where(eq(table.id, row.id))
    .run()
}

const rowOfId = hot((table: NamedTable) =>
  hot((read: Read) =>
    read
      .select()
      .from(table)
      .where(eq(table.id, sql.placeholder('id')))
      .prepare(),
  ),
)

export function rowById<T extends NamedTable>(read: Read, table: T, id: string): T['$inferSelect'] | undefined {
  return rowOfId(table)(read).get({ id })
}

const rowsOfIds = hot((table: NamedTable) =>
  hot((read: Read) => read.select().from(table).where(isAmong(table.id, 'ids')).prepare()),
)

/** In no particular order; an id that names nothing is not among them. */
export function rowsByIds<T extends NamedTable>(read: Read, table: T, ids: readonly string[]): T['$inferSelect'][] {
  if (ids.length === 0) return []
  return rowsOfIds(table)(read).all({ ids: idList(ids) })
}

const rowsByName = hot((table: NamedTable) =>
  hot((read: Read) => read.select().from(table).orderBy(asc(table.name)).prepare()),
)

/** By name. */
export function allRows<T extends NamedTable>(read: Read, table: T): T['$inferSelect'][] {
  return rowsByName(table)(read).all()
}

/** Newest first; `after` is the id that the page before ended with. */
export function pageOfRows<T extends NamedTable>(
  read: Read,
  table: T,
  limit: number,
  after: string | null,
): T['$inferSelect'][] {
  return read
    .select()
    .from(table as NamedTable)
    .where(after === null ? undefined : lt(table.id, after))
    .orderBy(desc(table.id))
    .limit(limit)
    .all() as T['$inferSelect'][]
}

const idOfExactName = hot((table: NamedTable) =>
  hot((read: Read) =>
    read
      .select({ id: table.id })
      .from(table)
      .where(eq(table.name, sql.placeholder('name')))
      .prepare(),
  ),
)

/** The id of that name: as written, else one that differs in case or blanks only. */
export function idOfName(read: Read, table: NamedTable, name: string): string | undefined {
  const exact = idOfExactName(table)(read).get({ name })
  if (exact !== undefined) return exact.id
  const key = nameKey(name)
  const names = read.select({ id: table.id, name: table.name }).from(table).all()
  return names.find(row => nameKey(row.name) === key)?.id
}

const namesOfIds = hot((table: NamedTable) =>
  hot((read: Read) =>
    read.select({ id: table.id, name: table.name }).from(table).where(isAmong(table.id, 'ids')).prepare(),
  ),
)

/** The names of ids, in their order. Every id names something: the catalogue checks them and deletes nothing. */
export function namesOf(read: Read, table: NamedTable, ids: readonly string[]): string[] {
  if (ids.length === 0) return []
  const rows = namesOfIds(table)(read).all({ ids: idList(ids) })
  const byId = new Map(rows.map(row => [row.id, row.name]))
  return ids.flatMap(id => byId.get(id) ?? [])
}

import { allTables, UNAUDITED_TABLES } from '../platform/database/audited-tables.ts'
import type { Store } from '../platform/database/open.ts'

type Raw = Store['raw']

export type Value = string | number | null

export interface Column {
  name: string
  type: 'TEXT' | 'INTEGER' | 'REAL'
  /** Place in the primary key from 1; 0 when it is not part of it. */
  pk: number
}

/** Every table of the record, the chain included; not what holds secrets or answers of the moment. */
export function exportedTables(raw: Raw): string[] {
  return allTables(raw).filter(table => !UNAUDITED_TABLES.includes(table))
}

export function columnsOf(raw: Raw, table: string): Column[] {
  return raw.prepare('select name, type, pk from pragma_table_info(?) order by cid').all(table) as Column[]
}

/** The rows of a table, each as the values of its columns, always in the same order: that of the primary key. */
export function rowsInOrder(raw: Raw, table: string): Iterable<Value[]> {
  const key = columnsOf(raw, table)
    .filter(column => column.pk > 0)
    .sort((a, b) => a.pk - b.pk)
    .map(column => `"${column.name}"`)
  return raw
    .prepare(`select * from "${table}" order by ${key.join(', ')}`)
    .raw()
    .iterate() as Iterable<Value[]>
}

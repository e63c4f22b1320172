import { getTableColumns, type SQL, sql } from 'drizzle-orm'
import type { AnySQLiteColumn, SQLiteTable } from 'drizzle-orm/sqlite-core'
import { quickened } from './quick-read.ts'
import type { Tx } from './types.ts'

/**
 * A query that is run by every page or write: built and prepared once for each connection instead of at each call, which
 * costs many times what SQLite needs to answer it. What changes from call to call is a `sql.placeholder`; a query whose
 * shape depends on its input is written plainly. The statement is made at the first use, so never before migrations.
 *
 *     const vehicleOfId = hot((read: Read) =>
 *       read.select().from(vehicles).where(eq(vehicles.id, sql.placeholder('id'))).prepare())
 *     vehicleOfId(read).get({ id })
 *
 * Leave out `.limit(1)`: `get` reads one row anyway, and a bound limit makes SQLite plan the query again at each run.
 * The platform does the same with statements of the raw connection.
 */
export function hot<Connection extends object, Prepared>(
  prepare: (connection: Connection) => Prepared,
): (connection: Connection) => Prepared {
  const prepared = new WeakMap<Connection, Prepared>()
  return connection => {
    const known = prepared.get(connection)
    if (known !== undefined) return known
    const fresh = quickened(prepare(connection))
    prepared.set(connection, fresh)
    return fresh
  }
}

/** "This column is one of a list" for a hot query: the whole list is one placeholder, so its length is free. Give `idList(ids)`. */
export function isAmong(column: AnySQLiteColumn, placeholder: string): SQL {
  return sql`${column} in (select value from json_each(${sql.placeholder(placeholder)}))`
}

/** A list of ids as the placeholder of `isAmong` takes it. */
export function idList(ids: readonly string[]): string {
  return JSON.stringify(ids)
}

/**
 * Inserts whole rows of a table with one statement, prepared once for each connection. Values are turned into the
 * database's here, because a placeholder of drizzle's turns NULL into the text "null" (JSON) or into 0 (yes or no).
 */
export function hotInsert<Table extends SQLiteTable>(table: Table): (tx: Tx, row: Table['$inferSelect']) => void {
  const columns = Object.entries(getTableColumns(table))
  const values = Object.fromEntries(columns.map(([name]) => [name, sql`${sql.placeholder(name)}`]))
  const insert = hot((tx: Tx) => tx.insert<SQLiteTable>(table).values(values).prepare())
  return (tx, row) => {
    const bound: Record<string, unknown> = {}
    for (const [name, column] of columns) {
      const value: unknown = row[name]
      bound[name] = value === null ? null : column.mapToDriverValue(value)
    }
    insert(tx).run(bound)
  }
}

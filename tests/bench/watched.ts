import type Database from 'better-sqlite3'

/** A statement as it ran: its text, and what was bound. */
export interface Ran {
  sql: string
  bound: unknown[]
}

/**
 * A connection whose statements are told when they run. (better-sqlite3 can tell texts by itself, but cuts what was bound
 * after 32 characters.)
 */
export function watched(raw: Database.Database, tell: (ran: Ran) => void): Database.Database {
  const prepare = (sql: string): Database.Statement => watchedStatement(raw.prepare(sql), bound => tell({ sql, bound }))
  return Object.create(raw, { prepare: { value: prepare } }) as Database.Database
}

function watchedStatement(statement: Database.Statement, tell: (bound: unknown[]) => void): Database.Statement {
  const own: Database.Statement = Object.create(statement, {
    columns: { value: () => statement.columns() },
    ...Object.fromEntries(
      (['get', 'all', 'iterate', 'run'] as const).map(name => [
        name,
        {
          value(...bound: unknown[]) {
            tell(bound)
            return statement[name](...bound)
          },
        },
      ]),
    ),
    ...Object.fromEntries(
      (['raw', 'pluck'] as const).map(name => [
        name,
        {
          value(toggle = true) {
            statement[name](toggle)
            return own
          },
        },
      ]),
    ),
  }) as Database.Statement
  return own
}

import type Database from 'better-sqlite3'

const MOST_REMEMBERED = 1000

/**
 * The connection as drizzle gets it: the same, but that it remembers compiled statements by their text. drizzle asks for
 * a new one for each query and compiling is the larger half of a short query. Only for drizzle, which runs a statement to
 * its end at once: a statement that somebody still iterates over must not be handed out again.
 */
export function rememberingStatements(raw: Database.Database): Database.Database {
  const known = new Map<string, Database.Statement>()
  const prepare = (sql: string): Database.Statement => {
    const before = known.get(sql)
    if (before !== undefined) return before.reader ? before.raw(false) : before
    if (known.size === MOST_REMEMBERED) known.clear()
    const statement = raw.prepare(sql)
    known.set(sql, statement)
    return statement
  }
  return Object.create(raw, { prepare: { value: prepare } }) as Database.Database
}

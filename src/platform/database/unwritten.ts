import type Database from 'better-sqlite3'
import { hot } from './hot.ts'
import { hasWrittenTo, lastWriteTo, writesNoted } from './touched-rows.ts'
import type { Read } from './types.ts'

const othersWrites = hot((read: Read) => clientOf(read).prepare('pragma data_version').pluck())

/** The connection beneath a reader. */
export function clientOf(read: Read): Database.Database {
  return (read as Read & { $client: Database.Database }).$client
}

/** Another number after each write by another connection, whatever it wrote. */
export function writesOfOthers(read: Read): unknown {
  return othersWrites(read).get()
}

/** Another text after each write into a table that is audited, by this connection or by another process. */
export function writesSoFar(read: Read): string {
  return `${writesNoted(clientOf(read))} ${othersWrites(read).get()}`
}

/**
 * What is read again and again between two writes into the tables that it is read from, kept until the next one: by this
 * connection (its notes of what it wrote) or by another (the file's data version, whatever was written). In a transaction that
 * has written into them itself nothing is kept, since it may be rolled back.
 *
 * @param tables audited ones, every one that `look` reads: tests/database/unwritten.test.ts writes into each table there is.
 */
export function keptUntilWritten<T>(tables: readonly string[], look: (read: Read) => T): (read: Read) => T {
  const keep = hot((_: Read) => ({ own: -1, others: undefined as unknown, value: undefined as T }))
  return read => {
    const raw = clientOf(read)
    const kept = keep(read)
    const own = lastWriteTo(raw, tables)
    const others = othersWrites(read).get()
    if (kept.own === own && kept.others === others) return kept.value
    const value = look(read)
    if (!hasWrittenTo(raw, tables)) Object.assign(kept, { own, others, value })
    return value
  }
}

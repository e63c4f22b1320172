import type Database from 'better-sqlite3'
import { hot } from './hot.ts'
import type { Read } from './types.ts'

const ownWrites = hot((read: Read) => clientOf(read).prepare('select total_changes()').pluck())
const othersWrites = hot((read: Read) => clientOf(read).prepare('pragma data_version').pluck())

/** What `ownWrites` said when the transaction of a connection began. */
const writesAtBegin = new WeakMap<Read, unknown>()

function clientOf(read: Read): Database.Database {
  return (read as Read & { $client: Database.Database }).$client
}

/** For whoever begins a transaction, as its first act. */
export function noteBegin(read: Read): void {
  writesAtBegin.set(read, ownWrites(read).get())
}

/**
 * What is read again and again between two writes, kept until the next one: by this connection (its count of changed rows) or
 * by another (the file's data version). Within a transaction that has written, nothing is kept, since it may be rolled back.
 */
export function keptUntilWritten<T>(look: (read: Read) => T): (read: Read) => T {
  const keep = hot((_: Read) => ({ own: undefined as unknown, others: undefined as unknown, value: undefined as T }))
  return read => {
    const kept = keep(read)
    const own = ownWrites(read).get()
    const others = othersWrites(read).get()
    if (kept.own === own && kept.others === others) return kept.value
    const value = look(read)
    if (!clientOf(read).inTransaction || writesAtBegin.get(read) === own) Object.assign(kept, { own, others, value })
    return value
  }
}

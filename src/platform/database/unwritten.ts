import type Database from 'better-sqlite3'
import { hot } from './hot.ts'
import type { Read } from './types.ts'

const ownWrites = hot((read: Read) => clientOf(read).prepare('select total_changes()').pluck())
const othersWrites = hot((read: Read) => clientOf(read).prepare('pragma data_version').pluck())

function clientOf(read: Read): Database.Database {
  return (read as Read & { $client: Database.Database }).$client
}

/**
 * What is read again and again between two writes, kept until the next one: by this connection (its count of changed rows) or
 * by another (the file's data version). Within a transaction that has written, nothing is kept, since it may be rolled back.
 */
export function keptUntilWritten<T>(look: (read: Read) => T): (read: Read) => T {
  const keep = hot((_: Read) => ({ at: '', value: undefined as T }))
  return read => {
    const kept = keep(read)
    const at = `${ownWrites(read).get()} ${othersWrites(read).get()}`
    if (kept.at === at) return kept.value
    const value = look(read)
    if (!clientOf(read).inTransaction) Object.assign(kept, { at, value })
    return value
  }
}

import type Database from 'better-sqlite3'
import type { Context } from '../context.ts'
import { hot } from './hot.ts'
import { forgetTouched, noteBegin, unrecordedRows } from './touched-rows.ts'
import type { Tx } from './types.ts'

/** A promise would commit before its work is done, so the type refuses one, and so does the check below. */
type Synchronous<T> = T extends PromiseLike<unknown> ? never : T

/** Prepared once: `raw.transaction(…)` would make four functions for each write. */
const statements = hot((raw: Database.Database) => ({
  beginToWrite: raw.prepare('begin immediate'),
  beginToRead: raw.prepare('begin'),
  commit: raw.prepare('commit'),
  rollback: raw.prepare('rollback'),
}))

/** The connections on which `readAsOne` is under way. */
const onlyReading = new WeakSet<Database.Database>()

/**
 * The only way to write. One IMMEDIATE transaction; a `write` inside another joins it. A row that was written without an
 * audit event by the end of the outermost `write` is a fault of the program: nothing is committed.
 */
export function write<T>(ctx: Pick<Context, 'store'>, work: (tx: Tx) => Synchronous<T>): T {
  const { raw, read } = ctx.store
  const tx = read as Tx
  if (onlyReading.has(raw)) throw new Error('What only reads has no business writing')
  if (raw.inTransaction) return work(tx)
  const { beginToWrite, commit } = statements(raw)
  beginToWrite.run()
  noteBegin(raw)
  try {
    const result: T = work(tx)
    if (result instanceof Promise) throw new Error('write() takes a synchronous function')
    refuseUnrecorded(raw)
    commit.run()
    return result
  } catch (error) {
    undo(raw)
    throw error
  }
}

/**
 * Reads within one transaction: all that is read belongs to one state of the record, also when another process writes
 * meanwhile, and SQLite takes its locks once instead of for each statement, which is half the time of a short one. Of work
 * that waits for something this holds up to its first `await`.
 */
export function readAsOne<T>(ctx: Pick<Context, 'store'>, look: () => T): T {
  const { raw } = ctx.store
  if (raw.inTransaction) return look()
  const { beginToRead, commit } = statements(raw)
  beginToRead.run()
  noteBegin(raw)
  onlyReading.add(raw)
  try {
    const seen = look()
    commit.run()
    return seen
  } finally {
    onlyReading.delete(raw)
    if (raw.inTransaction) statements(raw).rollback.run()
  }
}

function refuseUnrecorded(raw: Database.Database): void {
  const forgotten = unrecordedRows(raw)
  if (forgotten.length === 0) return
  const list = forgotten.map(row => `${row.table_name} ${row.row_id}`).join(', ')
  throw new Error(`Written without an audit event: ${list}`)
}

/** After some errors SQLite has rolled back by itself. */
function undo(raw: Database.Database): void {
  if (raw.inTransaction) statements(raw).rollback.run()
  forgetTouched(raw)
}

import type { Context } from '../context.ts'
import { unrecordedRows } from './touched-rows.ts'
import type { Tx } from './types.ts'

/** A promise would commit before its work is done, so the type refuses one, and so does the check below. */
type Synchronous<T> = T extends PromiseLike<unknown> ? never : T

/**
 * The only way to write. One IMMEDIATE transaction; a `write` inside another joins it. A row that was written without an
 * audit event by the end of the outermost `write` is a fault of the program: nothing is committed.
 */
export function write<T>(ctx: Pick<Context, 'store'>, work: (tx: Tx) => Synchronous<T>): T {
  const { raw, read } = ctx.store
  const tx = read as Tx
  if (raw.inTransaction) return work(tx)
  return raw
    .transaction(() => {
      const result: T = work(tx)
      if (result instanceof Promise) throw new Error('write() takes a synchronous function')
      const forgotten = unrecordedRows(raw)
      if (forgotten.length > 0) {
        const list = forgotten.map(row => `${row.table_name} ${row.row_id}`).join(', ')
        throw new Error(`Written without an audit event: ${list}`)
      }
      return result
    })
    .immediate()
}

import { asc, eq, getTableColumns, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { moved_promises, wait_ends, waits } from '../schema.ts'

export type MovedPromiseRow = typeof moved_promises.$inferSelect
/** `end` is null while it is waited for. */
export type WaitRow = typeof waits.$inferSelect & { end: typeof wait_ends.$inferSelect | null }

export const insertMovedPromise = hotInsert(moved_promises)
export const insertWait = hotInsert(waits)
export const insertWaitEnd = hotInsert(wait_ends)

const promisesOfOrder = hot((read: Read) =>
  read
    .select()
    .from(moved_promises)
    .where(eq(moved_promises.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(moved_promises.id))
    .prepare(),
)

/** Oldest first, like the list below. */
export function findMovedPromises(read: Read, orderId: string): MovedPromiseRow[] {
  return promisesOfOrder(read).all({ orderId })
}

function withEnds(read: Read) {
  return read
    .select({ ...getTableColumns(waits), end: wait_ends })
    .from(waits)
    .leftJoin(wait_ends, eq(wait_ends.wait_id, waits.id))
}

const waitsOfOrder = hot((read: Read) =>
  withEnds(read)
    .where(eq(waits.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(waits.id))
    .prepare(),
)

export function findWaits(read: Read, orderId: string): WaitRow[] {
  return waitsOfOrder(read).all({ orderId })
}

export function findWait(read: Read, id: string): WaitRow | undefined {
  return withEnds(read).where(eq(waits.id, id)).get()
}

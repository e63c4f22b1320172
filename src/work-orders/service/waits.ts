import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { MovedPromise, Wait, WaitEndInput, WaitInput } from '../contract.ts'
import * as queries from '../queries/waits.ts'
import { requireOrder, requireOrderInHouse } from './known.ts'

/** Desk or technician. What the vehicle waits for, from whom, until when. 404 for an unknown order, 409 once it has left. */
export function addWait(ctx: Context, orderId: string, { what, from_whom, expected_on }: WaitInput): Wait {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireOrderInHouse(ctx, orderId)
    const named = { what, from_whom: from_whom ?? null, expected_on: expected_on ?? null }
    const row = { ...newRecord(ctx), work_order_id: orderId, ...named }
    queries.insertWait(tx, row)
    recordEvent(ctx, tx, { action: 'wait.begun', table: 'waits', id: row.id })
    return waitToWire({ ...row, end: null })
  })
}

/** Desk or technician. It is here, or, with a note, what became of it. 404, 409 `wait-ended` the second time. */
export function endWait(ctx: Context, id: string, { note }: WaitEndInput): Wait {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const row = requireWait(ctx, id)
    if (row.end !== null) throw problem('wait-ended', { detail: `Nobody waits for it any more: ${row.what}.` })
    const end = { ...newRecord(ctx), wait_id: id, note: note ?? null }
    queries.insertWaitEnd(tx, end)
    recordEvent(ctx, tx, { action: 'wait.ended', table: 'wait_ends', id: end.id })
    return waitToWire({ ...row, end })
  })
}

/** 404 when there is none. */
export function waitById(ctx: Context, id: string): Wait {
  return waitToWire(requireWait(ctx, id))
}

/** Oldest first, those that are over too. 404 for an unknown order. */
export function waitsOfOrder(ctx: Context, orderId: string): Wait[] {
  requireOrder(ctx, orderId)
  return queries.findWaits(ctx.read, orderId).map(waitToWire)
}

/** Oldest first. 404 for an unknown order. */
export function movedPromisesOfOrder(ctx: Context, orderId: string): MovedPromise[] {
  requireOrder(ctx, orderId)
  return queries.findMovedPromises(ctx.read, orderId).map(({ created_at, was_on, now_on, ...row }) => ({
    ...{ ...row, created_at: toInstant(created_at) },
    ...withoutNulls({ was_on, now_on }),
  }))
}

function requireWait(ctx: Context, id: string): queries.WaitRow {
  const row = queries.findWait(ctx.read, id)
  if (row === undefined) throw notFound('wait', id)
  return row
}

function waitToWire({ created_at, from_whom, expected_on, end, ...row }: queries.WaitRow): Wait {
  return {
    ...{ ...row, created_at: toInstant(created_at), ...withoutNulls({ from_whom, expected_on }) },
    ...(end !== null && {
      ended: { at: toInstant(end.created_at), by: end.created_by, ...withoutNulls({ note: end.note }) },
    }),
  }
}

import type { Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import * as queries from '../queries/orders.ts'
import { stopClocksOn } from './clocks.ts'
import { requireOrderInHouse } from './known.ts'

export type HandBackRow = queries.HandBackRow

/** Writes down that the vehicle has left, with its event, and stops the clocks; for hand-back, which says whether it may. */
export function insertHandBack(ctx: Context, tx: Tx, row: HandBackRow): void {
  requireOrderInHouse(ctx, row.work_order_id)
  stopClocksOn(ctx, tx, row.work_order_id, () => true)
  queries.insertHandBackRow(tx, row)
  recordEvent(ctx, tx, { action: 'vehicle.handed-back', table: 'hand_backs', id: row.id })
}

/** Undefined while the vehicle is in the house. */
export function handBackOf(ctx: Context, orderId: string): HandBackRow | undefined {
  return queries.findHandBack(ctx.read, orderId)
}

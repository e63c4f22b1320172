import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant } from '../../platform/wire.ts'
import { requireVehicle } from '../../vehicles/index.ts'
import { vehicleOfJob } from '../../work-orders/index.ts'
import type { LeftForLater, LeftForLaterInput, SettleLeftForLaterInput } from '../contract.ts'
import {
  insertLeftForLater,
  insertLeftForLaterSettlement,
  type LeftForLaterRow,
  leftForLaterById,
  leftForLaterOfVehicle,
  leftForLaterRows,
} from '../queries.ts'
import { requireFindingOn } from './findings.ts'

/** Notes advised work that the customer does not want now (D T). */
export function leaveForLater(ctx: Context, input: LeftForLaterInput): LeftForLater {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const { vehicle_id, finding_id } = input
    together({
      vehicle: () => known('/vehicle_id', () => requireVehicle(ctx, vehicle_id)),
      finding: () => finding_id !== undefined && requireFindingOn(ctx, finding_id, vehicle_id),
    })
    const row = {
      ...newRecord(ctx),
      vehicle_id,
      finding_id: finding_id ?? null,
      text: input.text,
      amount_minor: input.amount_minor ?? null,
    }
    insertLeftForLater(tx, row)
    recordEvent(ctx, tx, { action: 'work.left-for-later', table: 'left_for_later', id: row.id })
    return toWire({ ...row, settled_by_job_id: null })
  })
}

/** The job that does at last what was left for later (D T). */
export function settleLeftForLater(ctx: Context, id: string, input: SettleLeftForLaterInput): LeftForLater {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const left = leftForLaterById(ctx.read, id)
    if (left === undefined) throw notFound('work left for later', id)
    if (known('/job_id', () => vehicleOfJob(ctx, input.job_id)) !== left.vehicle_id)
      throw invalid({ pointer: '/job_id', detail: 'That job was done on another vehicle.', code: 'does_not_fit' })
    if (left.settled_by_job_id !== null)
      throw problem('left-for-later-settled', { detail: 'This work has been done by a job already.' })
    const settlement = {
      ...newRecord(ctx),
      left_for_later_id: id,
      job_id: input.job_id,
    }
    insertLeftForLaterSettlement(tx, settlement)
    recordEvent(ctx, tx, { action: 'left-for-later.settled', table: 'left_for_later_settlements', id: settlement.id })
    return toWire({ ...left, settled_by_job_id: input.job_id })
  })
}

/** All that was ever left for later on a vehicle, oldest first; what is open has no settled_by_job_id. */
export function leftForLaterOn(ctx: Context, vehicleId: string): LeftForLater[] {
  requireVehicle(ctx, vehicleId)
  return leftForLaterOfVehicle(ctx.read, vehicleId).map(toWire)
}

/** On one vehicle or on all, oldest first, after the id that the page before ended with. 404 for an unknown vehicle. */
export function leftForLaterPage(
  ctx: Context,
  vehicleId: string | undefined,
  limit: number,
  after: string | null,
): LeftForLater[] {
  if (vehicleId !== undefined) requireVehicle(ctx, vehicleId)
  return leftForLaterRows(ctx.read, vehicleId, limit, after).map(toWire)
}

export function oneLeftForLater(ctx: Context, id: string): LeftForLater {
  const row = leftForLaterById(ctx.read, id)
  if (row === undefined) throw notFound('work left for later', id)
  return toWire(row)
}

function toWire(row: LeftForLaterRow): LeftForLater {
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    vehicle_id: row.vehicle_id,
    ...(row.finding_id !== null && { finding_id: row.finding_id }),
    text: row.text,
    ...(row.amount_minor !== null && { amount_minor: row.amount_minor }),
    ...(row.settled_by_job_id !== null && { settled_by_job_id: row.settled_by_job_id }),
  }
}

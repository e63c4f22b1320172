import { settingsOf } from '../../accounts/index.ts'
import { ensureOperation, operationNames } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import { requireVehicle } from '../../vehicles/index.ts'
import type { PriorWork, PriorWorkInput } from '../contract.ts'
import { insertPriorWork, type PriorWorkRow, priorWorksOfVehicle } from '../queries.ts'
import { priorDayFault, standsOn } from '../rules.ts'

/**
 * Notes work that was done on a vehicle earlier (D T), dated, roughly dated or not. An unknown operation is created by name.
 * `dayAt` is where its day stands in what was sent; 422 for one that has not come, or lies before there were vehicles.
 */
export function notePriorWork(ctx: Context, vehicleId: string, input: PriorWorkInput, dayAt = '/on'): PriorWork {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireVehicle(ctx, vehicleId)
    if (input.exactness !== 'unknown' && input.on === undefined)
      throw invalid({
        pointer: '/on',
        detail: 'Give the day, or any day of the month or year; or say that it is unknown.',
        code: 'missing',
      })
    if (input.exactness === 'unknown' && input.on !== undefined)
      throw invalid({
        pointer: '/exactness',
        detail: 'A day was given: say how well it is known, or leave it out.',
        code: 'does_not_fit',
      })
    const today = localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
    const fault = priorDayFault(input.exactness, input.on, today)
    if (fault !== null) throw invalid({ pointer: dayAt, detail: fault, code: 'no_such_day' })
    const row: PriorWorkRow = {
      ...newRecord(ctx),
      vehicle_id: vehicleId,
      operation_id: ensureOperation(ctx, tx, input.operation),
      by: input.by,
      on: standsOn(input.exactness, input.on),
      exactness: input.exactness,
      evidence: input.evidence ?? null,
    }
    insertPriorWork(tx, row)
    recordEvent(ctx, tx, { action: 'prior-work.noted', table: 'prior_works', id: row.id })
    const [wire] = toWire(ctx, [row])
    return wire!
  })
}

export function priorWorksOf(ctx: Context, vehicleId: string): PriorWork[] {
  requireVehicle(ctx, vehicleId)
  return toWire(ctx, priorWorksOfVehicle(ctx.read, vehicleId))
}

function toWire(ctx: Context, rows: PriorWorkRow[]): PriorWork[] {
  const names = operationNames(
    ctx,
    rows.map(row => row.operation_id),
  )
  return rows.map((row, at) => ({
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    vehicle_id: row.vehicle_id,
    operation: names[at]!,
    by: row.by,
    ...(row.on !== null && { on: row.on }),
    exactness: row.exactness,
    ...(row.evidence !== null && { evidence: row.evidence }),
  }))
}

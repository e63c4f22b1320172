import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { OdometerReading, OdometerReadingInput } from '../contract.ts'
import * as queries from '../queries/vehicles.ts'
import { futureOddities, odometerOddities } from '../rules.ts'
import { today } from './today.ts'

/** Desk or technician. What is odd about the reading is said in `warnings` and stops nobody. 404 for an unknown vehicle. */
export function recordOdometer(ctx: Context, vehicleId: string, input: OdometerReadingInput): OdometerReading {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const all = readings(tx, vehicleId)
    const row = { ...newRecord(ctx), vehicle_id: vehicleId, ...input, display_replaced: input.display_replaced ?? false }
    queries.insertReading(tx, row)
    recordEvent(ctx, tx, { action: 'odometer.read', table: 'odometer_readings', id: row.id })
    return toWire(ctx, [...all, row], row)
  })
}

/** Oldest day first, each with what is odd about it beside the others. 404 for an unknown vehicle. */
export function odometerReadings(ctx: Context, vehicleId: string): OdometerReading[] {
  const all = readings(ctx.read, vehicleId)
  return all.map(row => toWire(ctx, all, row))
}

/** 404 when the vehicle has no such reading. */
export function odometerReadingById(ctx: Context, vehicleId: string, id: string): OdometerReading {
  const reading = odometerReadings(ctx, vehicleId).find(each => each.id === id)
  if (reading === undefined) throw notFound('odometer reading of this vehicle', id)
  return reading
}

function readings(read: Parameters<typeof queries.readingsOf>[0], vehicleId: string): queries.ReadingRow[] {
  if (queries.vehicleRow(read, vehicleId) === undefined) throw notFound('vehicle', vehicleId)
  return queries.readingsOf(read, vehicleId)
}

function toWire(ctx: Context, all: queries.ReadingRow[], row: queries.ReadingRow): OdometerReading {
  // of one day, a reading is judged by those that were there before it
  const others = all.filter(other => other.on !== row.on || other.id < row.id)
  const warnings = [...futureOddities('on', row.on, today(ctx)), ...odometerOddities(others, row)]
  return { ...row, created_at: toInstant(row.created_at), warnings }
}

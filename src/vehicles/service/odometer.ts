import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { OdometerReading, OdometerReadingInput } from '../contract.ts'
import * as queries from '../queries/vehicles.ts'
import { odometerOddities } from '../rules.ts'

/** Desk or technician. What is odd about the reading is said in `warnings` and stops nobody. 404 for an unknown vehicle. */
export function recordOdometer(ctx: Context, vehicleId: string, input: OdometerReadingInput): OdometerReading {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const all = readings(tx, vehicleId)
    const row = {
      ...newRecord(ctx),
      vehicle_id: vehicleId,
      ...input,
      display_replaced: input.display_replaced ?? false,
    }
    queries.insertReading(tx, row)
    recordEvent(ctx, tx, { action: 'odometer.read', table: 'odometer_readings', id: row.id })
    return toWire([...all, row], row)
  })
}

/** Oldest day first, each with what is odd about it beside the others. 404 for an unknown vehicle. */
export function odometerReadings(ctx: Context, vehicleId: string): OdometerReading[] {
  const all = readings(ctx.read, vehicleId)
  return all.map(row => toWire(all, row))
}

function readings(read: Parameters<typeof queries.readingsOf>[0], vehicleId: string): queries.ReadingRow[] {
  if (queries.vehicleRow(read, vehicleId) === undefined) throw notFound('vehicle', vehicleId)
  return queries.readingsOf(read, vehicleId)
}

function toWire(all: queries.ReadingRow[], row: queries.ReadingRow): OdometerReading {
  // of one day, a reading is judged by those that were there before it
  const others = all.filter(other => other.on !== row.on || other.id < row.id)
  return { ...row, created_at: toInstant(row.created_at), warnings: odometerOddities(others, row) }
}

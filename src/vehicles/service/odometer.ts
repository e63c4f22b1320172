import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { OdometerReading, OdometerReadingInput } from '../contract.ts'
import * as queries from '../queries/vehicles.ts'
import { type Oddity, odometerOddities, type Reading } from '../rules.ts'

/** Desk or technician. What is odd about the reading is said in `warnings` and stops nobody. 404 for an unknown vehicle. */
export function recordOdometer(ctx: Context, vehicleId: string, input: OdometerReadingInput): OdometerReading {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const all = readings(tx, vehicleId)
    const told = queries.toldReadingsOf(tx, vehicleId)
    const row = {
      ...newRecord(ctx),
      vehicle_id: vehicleId,
      ...input,
      display_replaced: input.display_replaced ?? false,
    }
    queries.insertReading(tx, row)
    recordEvent(ctx, tx, { action: 'odometer.read', table: 'odometer_readings', id: row.id })
    return toWire([...all, row], told, row, todayOf(ctx))
  })
}

/** Oldest day first, each with what is odd about it beside the others. 404 for an unknown vehicle. */
export function odometerReadings(ctx: Context, vehicleId: string): OdometerReading[] {
  const all = readings(ctx.read, vehicleId)
  const told = queries.toldReadingsOf(ctx.read, vehicleId)
  const today = todayOf(ctx)
  return all.map(row => toWire(all, told, row, today))
}

/** The readings by themselves, oldest day first, and the newest with what is odd about it. 404 for an unknown vehicle. */
export function readingsOfVehicle(
  ctx: Context,
  vehicleId: string,
): { readings: Reading[]; newest: OdometerReading | undefined } {
  const all = readings(ctx.read, vehicleId)
  const last = all.at(-1)
  if (last === undefined) return { readings: [], newest: undefined }
  return { readings: all, newest: toWire(all, queries.toldReadingsOf(ctx.read, vehicleId), last, todayOf(ctx)) }
}

/** What would be odd about a reading that nobody has written down yet. 404 for an unknown vehicle. */
export function oddOfReading(ctx: Context, vehicleId: string, reading: Reading): Oddity[] {
  const others = [...readings(ctx.read, vehicleId), ...queries.toldReadingsOf(ctx.read, vehicleId)]
  return odometerOddities(others, reading, todayOf(ctx))
}

function readings(read: Parameters<typeof queries.readingsOf>[0], vehicleId: string): queries.ReadingRow[] {
  if (queries.vehicleRow(read, vehicleId) === undefined) throw notFound('vehicle', vehicleId)
  return queries.readingsOf(read, vehicleId)
}

function todayOf(ctx: Context): string {
  return localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
}

function toWire(
  all: queries.ReadingRow[],
  told: queries.ToldReading[],
  row: queries.ReadingRow,
  today: string,
): OdometerReading {
  // of one day, a reading is judged by those that were there before it
  const others = [...all.filter(other => other.on !== row.on || other.id < row.id), ...told]
  return { ...row, created_at: toInstant(row.created_at), warnings: odometerOddities(others, row, today) }
}

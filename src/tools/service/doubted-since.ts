import { settingsOf } from '../../accounts/index.ts'
import { addDays, startOfDayMs } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { lastGoodBefore } from '../../core/fastening/known-good.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import type { DoubtedSince, DoubtedSinceInput } from '../contract/doubted-since.ts'
import { calibrationRow, doubtedSinceRows, insertDoubtedSince } from '../queries/doubted-since.ts'
import { calibrationsOf } from '../queries.ts'

/**
 * Technician or owner: a wrench that was found outside is doubted from a known time on only, and why (methods: in doubt).
 * It is added and never changed; the newest counts. 404 for an unknown certificate; 422 for one that was good, and for a
 * time before the last good check or after the day on which it was found outside.
 */
export function sayDoubtedSince(ctx: Context, calibrationId: string, input: DoubtedSinceInput): DoubtedSince {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const at = fromInstant(input.at)
    refuseWhatCannotBe(ctx, calibrationId, at)
    const row = { ...newRecord(ctx), calibration_id: calibrationId, at, reason: input.reason }
    insertDoubtedSince(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.doubted-since', table: 'doubted_since', id: row.id })
    return toWire(row)
  })
}

/** Oldest first; the last one counts. 404 for an unknown certificate. */
export function doubtedSinceOf(ctx: Context, calibrationId: string): DoubtedSince[] {
  requireCalibration(ctx, calibrationId)
  return doubtedSinceRows(ctx.read, calibrationId).map(toWire)
}

function refuseWhatCannotBe(ctx: Context, calibrationId: string, at: number): void {
  const calibration = requireCalibration(ctx, calibrationId)
  const { time_zone } = settingsOf(ctx)
  const fault = (detail: string, code: string) => invalid({ pointer: '/at', detail, code })
  if (calibration.found === 'good')
    throw fault('This certificate found the wrench good: nothing is in doubt because of it.', 'does_not_fit')
  const foundOn = calibration.made_on
  if (at > ctx.clock.now() || at >= startOfDayMs(addDays(foundOn, 1), time_zone))
    throw fault(`It was found outside on ${longDay(foundOn)}: give a time before that was known.`, 'too_late')
  const good = lastGoodBefore(calibrationsOf(ctx.read, calibration.wrench_id), { ...calibration, on: foundOn })
  if (good !== null && at < startOfDayMs(good.made_on, time_zone))
    throw fault(`It was known to be good on ${longDay(good.made_on)}: give a time from that day on.`, 'too_early')
}

function requireCalibration(ctx: Context, id: string) {
  const row = calibrationRow(ctx.read, id)
  if (row === undefined) throw notFound('calibration', id)
  return row
}

function toWire(row: { created_at: number; at: number } & Omit<DoubtedSince, 'created_at' | 'at'>): DoubtedSince {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

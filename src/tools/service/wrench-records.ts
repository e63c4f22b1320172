import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import type { Calibration, CalibrationInput, Withdrawal, WithdrawalInput } from '../contract.ts'
import * as queries from '../queries.ts'
import { pointFaults } from '../rules/certificate-faults.ts'
import { futureFaults } from './faults.ts'
import { today } from './state.ts'
import { requireWrench } from './wrenches.ts'

/** Clocks of two machines differ a little. */
const CLOCK_SLACK_MS = 10 * 60_000

/** Technician or owner. One found outside puts in doubt what the wrench touched since it was last known good. */
export function recordCalibration(ctx: Context, wrenchId: string, input: CalibrationInput): Calibration {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const wrench = requireWrench(ctx, wrenchId)
    const faults = [...futureFaults(input.made_on, today(ctx)), ...pointFaults(wrench, input.points)]
    if (faults.length > 0) throw invalid(...faults)
    const row = { ...newRecord(ctx), wrench_id: wrenchId, ...input }
    queries.insertCalibration(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.calibrated', table: 'calibrations', id: row.id })
    return calibrationToWire(row)
  })
}

/** Technician or owner: a drop, an overload, a doubt, at its real time. A good calibration after it ends it. */
export function withdrawWrench(ctx: Context, wrenchId: string, input: WithdrawalInput): Withdrawal {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    requireWrench(ctx, wrenchId)
    const at = fromInstant(input.at)
    if (at > ctx.clock.now() + CLOCK_SLACK_MS) {
      throw invalid({ pointer: '/at', detail: 'This lies in the future. Say when it happened.', code: 'future' })
    }
    const row = { ...newRecord(ctx), wrench_id: wrenchId, at, reason: input.reason }
    queries.insertWithdrawal(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.withdrawn', table: 'withdrawals', id: row.id })
    return withdrawalToWire(row)
  })
}

/** The latest first. 404 for an unknown wrench. */
export function calibrationsOfWrench(ctx: Context, wrenchId: string): Calibration[] {
  requireWrench(ctx, wrenchId)
  return queries.calibrationsOf(ctx.read, wrenchId).map(calibrationToWire)
}

/** The latest first. 404 for an unknown wrench. */
export function withdrawalsOfWrench(ctx: Context, wrenchId: string): Withdrawal[] {
  requireWrench(ctx, wrenchId)
  return queries.withdrawalsOf(ctx.read, wrenchId).map(withdrawalToWire)
}

function calibrationToWire(row: queries.CalibrationRow): Calibration {
  return { ...row, created_at: toInstant(row.created_at) }
}

function withdrawalToWire(row: queries.WithdrawalRow): Withdrawal {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

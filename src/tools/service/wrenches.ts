import { addDays } from '../../core/calendar.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { type FieldError, invalid, notFound, problem } from '../../platform/problems.ts'
import { edited, newEditable, newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant, withoutNulls } from '../../platform/wire.ts'
import type {
  Calibration,
  CalibrationInput,
  Withdrawal,
  WithdrawalInput,
  Wrench,
  WrenchInput,
  WrenchPatch,
} from '../contract.ts'
import * as queries from '../queries.ts'
import { dueOn, troubleOn } from '../rules.ts'
import { factsOf, today } from './state.ts'

/** Clocks of two machines differ a little. */
const CLOCK_SLACK_MS = 10 * 60_000

/** Owner. */
export function registerWrench(ctx: Context, input: WrenchInput): Wrench {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName(ctx, input.name)
    const row = { ...newEditable(ctx), ...columns(input) }
    queries.insertWrench(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.registered', table: 'wrenches', id: row.id })
    return toWire(ctx, row)
  })
}

/** Owner. 412 when the record has moved on from `version`. */
export function updateWrench(ctx: Context, id: string, version: number, patch: WrenchPatch): Wrench {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireWrench(ctx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(row), patch)
    refuseTakenName(ctx, input.name, id)
    const changed = { ...row, ...columns(input), ...edited(ctx, row) }
    queries.updateWrenchRow(tx, changed)
    recordEvent(ctx, tx, { action: 'wrench.edited', table: 'wrenches', id })
    return toWire(ctx, changed)
  })
}

/** 404 when there is none. */
export function wrenchById(ctx: Context, id: string): Wrench {
  return toWire(ctx, requireWrench(ctx, id))
}

/** By name. */
export function allWrenches(ctx: Context): Wrench[] {
  return queries.allWrenchRows(ctx.read).map(row => toWire(ctx, row))
}

/** Newest first, after the id that the page before ended with. */
export function wrenchesPage(ctx: Context, limit: number, after: string | null): Wrench[] {
  return queries.wrenchRows(ctx.read, limit, after).map(row => toWire(ctx, row))
}

/** Technician or owner. One found outside puts in doubt what the wrench touched since it was last known good. */
export function recordCalibration(ctx: Context, wrenchId: string, input: CalibrationInput): Calibration {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    requireWrench(ctx, wrenchId)
    const faults = calibrationFaults(ctx, input)
    if (faults.length > 0) throw invalid(...faults)
    const row = { ...newRecord(ctx), wrench_id: wrenchId, ...input }
    queries.insertCalibration(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.calibrated', table: 'calibrations', id: row.id })
    return calibrationToWire(row)
  })
}

/** Technician or owner: a drop, an overload, a doubt. A good calibration after it ends it. */
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

function requireWrench(ctx: Context, id: string): queries.WrenchRow {
  const row = queries.wrenchRow(ctx.read, id)
  if (row === undefined) throw notFound('wrench', id)
  return row
}

function refuseTakenName(ctx: Context, name: string, ownId?: string): void {
  const other = queries.wrenchOfName(ctx.read, name)
  if (other === undefined || other.id === ownId) return
  const detail = `There is a wrench called “${other.name}” already.`
  throw problem('name-taken', { detail, errors: [{ pointer: '/name', detail, code: 'taken' }] })
}

function calibrationFaults(ctx: Context, input: CalibrationInput): FieldError[] {
  const faults: FieldError[] = []
  // where the certificate was written it may be tomorrow already
  if (input.made_on > addDays(today(ctx), 1)) {
    faults.push({
      pointer: '/made_on',
      detail: 'This day lies in the future. Give the day on the certificate.',
      code: 'future',
    })
  }
  input.points.forEach(({ at_nm }, at) => {
    if (input.points.findIndex(point => point.at_nm === at_nm) === at) return
    faults.push({
      pointer: `/points/${at}/at_nm`,
      detail: `${at_nm} N·m stands here twice. Keep one of them.`,
      code: 'twice',
    })
  })
  return faults
}

function columns(input: WrenchInput) {
  const { name, kind, min_nm, max_nm, scale_division_nm = null, length_mm = null } = input
  if (max_nm <= min_nm) {
    throw invalid({
      pointer: '/max_nm',
      detail: `The range must end above its beginning (${min_nm} N·m).`,
      code: 'too_small',
    })
  }
  return { name, kind, min_nm, max_nm, class: input.class ?? null, scale_division_nm, length_mm }
}

function toInput(row: queries.WrenchRow): WrenchInput {
  const { name, kind, min_nm, max_nm, scale_division_nm, length_mm } = row
  return { name, kind, min_nm, max_nm, ...withoutNulls({ class: row.class, scale_division_nm, length_mm }) }
}

function toWire(ctx: Context, row: queries.WrenchRow): Wrench {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  const facts = factsOf(ctx, row)
  const [due_on, trouble] = [dueOn(facts, today(ctx)), troubleOn(facts, today(ctx))]
  return { id, created_at, created_by, updated_at, version, ...toInput(row), ...withoutNulls({ due_on }), trouble }
}

function calibrationToWire(row: queries.CalibrationRow): Calibration {
  return { ...row, created_at: toInstant(row.created_at) }
}

function withdrawalToWire(row: queries.WithdrawalRow): Withdrawal {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

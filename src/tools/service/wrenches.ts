import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Wrench, WrenchInput, WrenchPatch } from '../contract.ts'
import * as queries from '../queries.ts'
import { dueOn, troubleOn } from '../rules/due.ts'
import { refuseTakenName } from './faults.ts'
import { calibrationRule, counted, today, wrenchFacts } from './state.ts'
import type { CyclesSince } from './use.ts'

/** Owner. */
export function registerWrench(ctx: Context, input: WrenchInput, cyclesSince?: CyclesSince): Wrench {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName('wrench', queries.allWrenchRows(ctx.read), input.name)
    const row = { ...newEditable(ctx), ...columns(input) }
    queries.insertWrench(tx, row)
    recordEvent(ctx, tx, { action: 'wrench.registered', table: 'wrenches', id: row.id })
    return toWire(ctx, row, cyclesSince)
  })
}

/** Owner. 412 when the record has moved on from `version`. */
export function updateWrench(
  ctx: Context,
  id: string,
  version: number,
  patch: WrenchPatch,
  cyclesSince?: CyclesSince,
): Wrench {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireWrench(ctx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(row), patch)
    refuseTakenName('wrench', queries.allWrenchRows(ctx.read), input.name, id)
    const changed = { ...row, ...columns(input), ...edited(ctx, row) }
    queries.updateWrenchRow(tx, changed)
    recordEvent(ctx, tx, { action: 'wrench.edited', table: 'wrenches', id })
    return toWire(ctx, changed, cyclesSince)
  })
}

/** 404 when there is none. Without `cyclesSince` nobody counts its cycles. */
export function wrenchById(ctx: Context, id: string, cyclesSince?: CyclesSince): Wrench {
  return toWire(ctx, requireWrench(ctx, id), cyclesSince)
}

/** By name. */
export function allWrenches(ctx: Context, cyclesSince?: CyclesSince): Wrench[] {
  return queries.allWrenchRows(ctx.read).map(row => toWire(ctx, row, cyclesSince))
}

/** Newest first, after the id that the page before ended with. */
export function wrenchesPage(ctx: Context, limit: number, after: string | null, cyclesSince: CyclesSince): Wrench[] {
  return queries.wrenchRows(ctx.read, limit, after).map(row => toWire(ctx, row, cyclesSince))
}

export function requireWrench(ctx: Context, id: string): queries.WrenchRow {
  const row = queries.wrenchRow(ctx.read, id)
  if (row === undefined) throw notFound('wrench', id)
  return row
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
  if (scale_division_nm !== null && scale_division_nm >= max_nm) {
    throw invalid({
      pointer: '/scale_division_nm',
      detail: `One division cannot be as large as the whole scale, ${max_nm} N·m. Give the step from one mark to the next.`,
      code: 'too_large',
    })
  }
  return { name, kind, min_nm, max_nm, class: input.class ?? null, scale_division_nm, length_mm }
}

function toInput(row: queries.WrenchRow): WrenchInput {
  const { name, kind, min_nm, max_nm, scale_division_nm, length_mm } = row
  return { name, kind, min_nm, max_nm, ...withoutNulls({ class: row.class, scale_division_nm, length_mm }) }
}

function toWire(ctx: Context, row: queries.WrenchRow, cyclesSince?: CyclesSince): Wrench {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  const [day, rule] = [today(ctx), calibrationRule(ctx)]
  const facts = counted(wrenchFacts(ctx, id)!, day, cyclesSince)
  const optional = withoutNulls({ due_on: dueOn(facts, day, rule), cycles: facts.cycles })
  const trouble = troubleOn(facts, day, rule)
  return { id, created_at, created_by, updated_at, version, ...toInput(row), ...optional, trouble }
}

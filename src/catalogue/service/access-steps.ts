import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant } from '../../platform/wire.ts'
import type { AccessStep, AccessStepInput, AccessStepPatch } from '../contract.ts'
import * as queries from '../queries/rows.ts'
import { needsItself, withAllNeeded } from '../rules/precedence.ts'
import { refuseTakenName, requireIds, requireNames } from './names.ts'

const { components, access_steps } = queries.NAMED

/** Owner. */
export function createAccessStep(ctx: Context, input: AccessStepInput): AccessStep {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName(tx, access_steps, input.name)
    const row = { ...newEditable(ctx), ...columns(tx, input) }
    queries.insertRow(tx, access_steps, row)
    recordEvent(ctx, tx, { action: 'access-step.created', table: 'access_steps', id: row.id })
    return toWire(tx, row)
  })
}

/** Owner. 412 when the record has moved on from `version`. Jobs keep the step as it was when they were written. */
export function updateAccessStep(ctx: Context, id: string, version: number, patch: AccessStepPatch): AccessStep {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireRow(tx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(tx, row), patch)
    refuseTakenName(tx, access_steps, input.name, id)
    const changed = { ...row, ...columns(tx, input), ...edited(ctx, row) }
    if (needsItself(id, changed.needs, queries.allRows(tx, access_steps))) {
      throw invalid({
        pointer: '/needs',
        detail: 'So it would need itself first. Take one of these out.',
        code: 'circle',
      })
    }
    queries.updateRow(tx, access_steps, changed)
    recordEvent(ctx, tx, { action: 'access-step.edited', table: 'access_steps', id })
    return toWire(tx, changed)
  })
}

/** 404 when there is none. */
export function accessStepById(ctx: Context, id: string): AccessStep {
  return toWire(ctx.read, requireRow(ctx.read, id))
}

/** A step as rows have it: the components it exposes and disturbs as ids. */
export type AccessStepIds = Pick<queries.AccessStepRow, 'id' | 'name' | 'hours' | 'needs' | 'exposes' | 'disturbs'>

/** The steps and all that they need, each once, those needed before those that need them; components as ids. */
export function stepsWithAllNeeded(ctx: Context, ids: readonly string[]): AccessStepIds[] {
  return withAllNeeded(ids, accessStepIds(ctx))
}

/** Every step, with components as ids, by name. */
export function accessStepIds(ctx: Context): AccessStepIds[] {
  return queries
    .allRows(ctx.read, access_steps)
    .map(({ id, name, hours, needs, exposes, disturbs }) => ({ id, name, hours, needs, exposes, disturbs }))
}

/** By name. */
export function allAccessSteps(ctx: Context): AccessStep[] {
  return queries.allRows(ctx.read, access_steps).map(row => toWire(ctx.read, row))
}

/** Newest first, after the id that the page before ended with. */
export function accessStepsPage(ctx: Context, limit: number, after: string | null): AccessStep[] {
  return queries.pageOfRows(ctx.read, access_steps, limit, after).map(row => toWire(ctx.read, row))
}

function requireRow(read: Read, id: string): queries.AccessStepRow {
  const row = queries.rowById(read, access_steps, id)
  if (row === undefined) throw notFound('access step', id)
  return row
}

function columns(read: Read, input: AccessStepInput) {
  return {
    name: input.name,
    hours: input.hours,
    ...together({
      needs: () => requireIds(read, access_steps, 'access step with the id', input.needs, '/needs'),
      exposes: () => requireNames(read, components, 'component', input.exposes, '/exposes'),
      disturbs: () => requireNames(read, components, 'component', input.disturbs, '/disturbs'),
    }),
  }
}

function toInput(read: Read, row: queries.AccessStepRow): AccessStepInput {
  const { name, hours, needs } = row
  const names = (ids: string[]) => queries.namesOf(read, components, ids)
  return { name, hours, needs, exposes: names(row.exposes), disturbs: names(row.disturbs) }
}

function toWire(read: Read, row: queries.AccessStepRow): AccessStep {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  return { id, created_at, created_by, updated_at, version, ...toInput(read, row) }
}

import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Component, ComponentInput, ComponentPatch } from '../contract.ts'
import * as queries from '../queries/rows.ts'
import { needsItself } from '../rules/precedence.ts'
import { refuseTakenName, requireIds, requireNames } from './names.ts'

const { components, symptoms, access_steps, operations } = queries.NAMED

/** Owner. */
export function createComponent(ctx: Context, input: ComponentInput): Component {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName(tx, components, input.name)
    const row = { ...newEditable(ctx), ...columns(tx, input) }
    queries.insertRow(tx, components, row)
    recordEvent(ctx, tx, { action: 'component.created', table: 'components', id: row.id })
    return toWire(tx, row)
  })
}

/** Owner. 412 when the record has moved on from `version`. */
export function updateComponent(ctx: Context, id: string, version: number, patch: ComponentPatch): Component {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireRow(tx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(tx, row), patch)
    refuseTakenName(tx, components, input.name, id)
    const changed = { ...row, ...columns(tx, input), ...edited(ctx, row) }
    refuseCircle(tx, changed)
    queries.updateRow(tx, components, changed)
    recordEvent(ctx, tx, { action: 'component.edited', table: 'components', id })
    return toWire(tx, changed)
  })
}

/** 404 when there is none. */
export function componentById(ctx: Context, id: string): Component {
  return toWire(ctx.read, requireRow(ctx.read, id))
}

/** In no particular order; an id that names nothing is not among them. */
export function componentsByIds(ctx: Context, ids: readonly string[]): Component[] {
  return queries.rowsByIds(ctx.read, components, ids).map(row => toWire(ctx.read, row))
}

/** By name. */
export function allComponents(ctx: Context): Component[] {
  return queries.allRows(ctx.read, components).map(row => toWire(ctx.read, row))
}

/** Newest first, after the id that the page before ended with. */
export function componentsPage(ctx: Context, limit: number, after: string | null): Component[] {
  return queries.pageOfRows(ctx.read, components, limit, after).map(row => toWire(ctx.read, row))
}

function requireRow(read: Read, id: string): queries.ComponentRow {
  const row = queries.rowById(read, components, id)
  if (row === undefined) throw notFound('component', id)
  return row
}

/** What is not to be checked before itself could never be checked. */
function refuseCircle(read: Read, row: queries.ComponentRow): void {
  const all = queries.allRows(read, components).map(({ id, not_before }) => ({ id, needs: not_before }))
  if (!needsItself(row.id, row.not_before, all)) return
  const detail = 'So it would have to be checked before itself. Take one of these out.'
  throw invalid({ pointer: '/not_before', detail, code: 'circle' })
}

/** What a record lacks that came with a name only stays absent until somebody says it. */
type Partly = Omit<ComponentInput, 'severity' | 'check_minutes'> &
  Partial<Pick<ComponentInput, 'severity' | 'check_minutes'>>

function columns(read: Read, input: Partly) {
  const { remedy_operation_id, access_step_ids } = input
  return {
    name: input.name,
    severity: input.severity ?? null,
    check_minutes: input.check_minutes ?? null,
    makes_safe: input.makes_safe ?? false,
    caution: input.caution ?? null,
    remedy_part_minor: input.remedy_part_minor ?? null,
    ...together({
      causes: () => requireNames(read, symptoms, 'symptom', input.causes, '/causes'),
      access_step_ids: () =>
        requireIds(read, access_steps, 'access step with the id', access_step_ids, '/access_step_ids'),
      not_before: () => requireNames(read, components, 'component', input.not_before ?? [], '/not_before'),
      remedy_operation_id: () => requireRemedy(read, remedy_operation_id),
    }),
  }
}

function requireRemedy(read: Read, operationId: string | undefined): string | null {
  if (operationId === undefined) return null
  if (queries.rowById(read, operations, operationId) !== undefined) return operationId
  const detail = `There is no operation with the id ${operationId}.`
  throw invalid({ pointer: '/remedy_operation_id', detail, code: 'unknown' })
}

function toInput(read: Read, row: queries.ComponentRow): Partly & Pick<Component, 'makes_safe' | 'not_before'> {
  const { name, access_step_ids, makes_safe } = row
  const { severity, check_minutes, caution, remedy_operation_id, remedy_part_minor } = row
  return {
    name,
    causes: queries.namesOf(read, symptoms, row.causes),
    access_step_ids,
    makes_safe,
    not_before: queries.namesOf(read, components, row.not_before),
    ...withoutNulls({ severity, check_minutes, caution, remedy_operation_id, remedy_part_minor }),
  }
}

function toWire(read: Read, row: queries.ComponentRow): Component {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  return { id, created_at, created_by, updated_at, version, ...toInput(read, row) }
}

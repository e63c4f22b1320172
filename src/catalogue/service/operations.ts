import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { type FieldError, invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Operation, OperationInput, OperationPatch } from '../contract.ts'
import { newestNumbers } from '../queries/revisions.ts'
import * as queries from '../queries/rows.ts'
import { withAllNeeded } from '../rules/precedence.ts'
import type { OperationLook } from '../schema.ts'
import { refuseTakenName, requireIds } from './names.ts'

const { components, access_steps, operations, procedures } = queries.NAMED

/** Owner. Each joint's procedure has a revision, so that a job can pin one. */
export function createOperation(ctx: Context, input: OperationInput): Operation {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName(tx, operations, input.name)
    const row = { ...newEditable(ctx), ...columns(tx, input) }
    queries.insertRow(tx, operations, row)
    recordEvent(ctx, tx, { action: 'operation.created', table: 'operations', id: row.id })
    return toWire(tx, row)
  })
}

/** Owner. 412 when the record has moved on from `version`. Jobs keep the operation as it was when they were written. */
export function updateOperation(ctx: Context, id: string, version: number, patch: OperationPatch): Operation {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireRow(tx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(tx, row), patch)
    refuseTakenName(tx, operations, input.name, id)
    const changed = { ...row, ...columns(tx, input), ...edited(ctx, row) }
    queries.updateRow(tx, operations, changed)
    recordEvent(ctx, tx, { action: 'operation.edited', table: 'operations', id })
    return toWire(tx, changed)
  })
}

/** 404 when there is none. */
export function operationById(ctx: Context, id: string): Operation {
  return toWire(ctx.read, requireRow(ctx.read, id))
}

/** What a job copies of an operation: looks name their component by its id. 404 when there is none. */
export type OperationPlan = Omit<Operation, 'looks'> & { looks: OperationLook[] }

export function operationPlan(ctx: Context, id: string): OperationPlan {
  const row = requireRow(ctx.read, id)
  return { ...toWire(ctx.read, row), looks: row.looks }
}

/** In no particular order; an id that names nothing is not among them. */
export function operationsByIds(ctx: Context, ids: readonly string[]): Operation[] {
  return queries.rowsByIds(ctx.read, operations, ids).map(row => toWire(ctx.read, row))
}

/** The operation of that name, whatever its case; undefined when there is none. */
export function operationOfName(ctx: Context, name: string): Operation | undefined {
  const id = queries.idOfName(ctx.read, operations, name)
  return id === undefined ? undefined : operationById(ctx, id)
}

/** By name. */
export function allOperations(ctx: Context): Operation[] {
  return queries.allRows(ctx.read, operations).map(row => toWire(ctx.read, row))
}

/** Newest first, after the id that the page before ended with. */
export function operationsPage(ctx: Context, limit: number, after: string | null): Operation[] {
  return queries.pageOfRows(ctx.read, operations, limit, after).map(row => toWire(ctx.read, row))
}

function requireRow(read: Read, id: string): queries.OperationRow {
  const row = queries.rowById(read, operations, id)
  if (row === undefined) throw notFound('operation', id)
  return row
}

/** An operation that came with a name only has no hours until somebody says them. */
type Partly = Omit<OperationInput, 'hours'> & { hours?: number }

function columns(read: Read, input: Partly) {
  const { access_step_ids } = together({
    joints: () => refuse(jointFaults(read, input)),
    looks: () => refuse(lookFaults(read, input)),
    marks: () => refuse(markFaults(read, input)),
    access_step_ids() {
      const ids = requireIds(read, access_steps, 'access step with the id', input.access_step_ids, '/access_step_ids')
      refuse(behindFaults(read, input, ids))
      return ids
    },
  })
  return {
    name: input.name,
    hours: input.hours ?? null,
    access_step_ids,
    joints: input.joints.map(joint => withoutNulls({ ...joint, behind_step_id: joint.behind_step_id ?? null })),
    looks: input.looks.map(({ component, severity, minutes, behind_step_id }) => ({
      component_id: queries.idOfName(read, components, component)!,
      severity,
      minutes,
      ...(behind_step_id !== undefined && { behind_step_id }),
    })),
    final_checks: input.final_checks,
    marks: (input.marks ?? []).map(({ text, behind_step_id, before_step_id, photo }) =>
      withoutNulls({
        text,
        behind_step_id: behind_step_id ?? null,
        before_step_id: before_step_id ?? null,
        photo: photo === true ? true : null,
      }),
    ),
    tools: (input.tools ?? []).map(({ tool, count, for_step_id, before_step_id }) =>
      withoutNulls({
        tool,
        count: count ?? 1,
        for_step_id: for_step_id ?? null,
        before_step_id: before_step_id ?? null,
      }),
    ),
    turns_engine: input.turns_engine ?? false,
    sound_before_after: input.sound_before_after ?? false,
    warranty_days: input.warranty_days ?? null,
    warranty_km: input.warranty_km ?? null,
  }
}

function refuse(faults: FieldError[]): void {
  if (faults.length > 0) throw invalid(...faults)
}

function jointFaults(read: Read, input: Partly): FieldError[] {
  const newest = newestNumbers(read)
  return input.joints.flatMap(({ procedure_id }, at) => {
    const pointer = `/joints/${at}/procedure_id`
    if (queries.rowById(read, procedures, procedure_id) === undefined) {
      return [{ pointer, detail: `There is no procedure with the id ${procedure_id}.`, code: 'unknown' }]
    }
    if (newest.has(procedure_id)) return []
    return [
      {
        pointer,
        detail: 'This procedure has no revision yet. Write its first one, then use it here.',
        code: 'no_revision',
      },
    ]
  })
}

function lookFaults(read: Read, input: Partly): FieldError[] {
  return input.looks.flatMap(({ component }, at) =>
    queries.idOfName(read, components, component) === undefined
      ? [{ pointer: `/looks/${at}/component`, detail: `There is no component “${component}”.`, code: 'unknown' }]
      : [],
  )
}

/** A mark can be made behind one step and before another only when the second is opened after the first. */
function markFaults(read: Read, input: Partly): FieldError[] {
  const all = queries.allRows(read, access_steps)
  return (input.marks ?? []).flatMap(({ behind_step_id, before_step_id }, at) => {
    if (behind_step_id === undefined || before_step_id === undefined) return []
    if (withAllNeeded([behind_step_id], all).every(step => step.id !== before_step_id)) return []
    const detail = 'To see the mark this step must be open, so it cannot be made before. Choose one that comes later.'
    return [{ pointer: `/marks/${at}/before_step_id`, detail, code: 'too_early' }]
  })
}

/** A step that joints, looks, marks and tools name can only be one that the operation opens. */
function behindFaults(read: Read, input: Partly, stepIds: string[]): FieldError[] {
  const opened = new Set(withAllNeeded(stepIds, queries.allRows(read, access_steps)).map(step => step.id))
  const named = [
    ...input.joints.map(({ behind_step_id }, at) => ({ pointer: `/joints/${at}/behind_step_id`, id: behind_step_id })),
    ...input.looks.map(({ behind_step_id }, at) => ({ pointer: `/looks/${at}/behind_step_id`, id: behind_step_id })),
    ...(input.marks ?? []).flatMap(({ behind_step_id, before_step_id }, at) => [
      { pointer: `/marks/${at}/behind_step_id`, id: behind_step_id },
      { pointer: `/marks/${at}/before_step_id`, id: before_step_id },
    ]),
    ...(input.tools ?? []).flatMap(({ for_step_id, before_step_id }, at) => [
      { pointer: `/tools/${at}/for_step_id`, id: for_step_id },
      { pointer: `/tools/${at}/before_step_id`, id: before_step_id },
    ]),
  ]
  return named
    .filter(({ id }) => id !== undefined && !opened.has(id))
    .map(({ pointer }) => ({
      pointer,
      detail:
        'This step is neither among the strip-down of the operation nor needed by it. Add it there, or choose another.',
      code: 'not_opened',
    }))
}

function toInput(read: Read, row: queries.OperationRow): Partly {
  const { name, hours, access_step_ids, joints, final_checks, warranty_days, warranty_km } = row
  const { marks, tools, turns_engine, sound_before_after } = row
  const looks = row.looks.map(({ component_id, severity, minutes, behind_step_id }) => ({
    component: queries.namesOf(read, components, [component_id])[0]!,
    severity,
    minutes,
    ...(behind_step_id !== undefined && { behind_step_id }),
  }))
  return {
    ...{ name, access_step_ids, joints, looks, final_checks, marks, tools, turns_engine, sound_before_after },
    ...withoutNulls({ hours, warranty_days, warranty_km }),
  }
}

function toWire(read: Read, row: queries.OperationRow): Operation {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  return { id, created_at, created_by, updated_at, version, ...toInput(read, row) }
}

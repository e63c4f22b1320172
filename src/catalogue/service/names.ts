import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, problem } from '../../platform/problems.ts'
import { newEditable, newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { NamedRecord } from '../../vehicles/index.ts'
import type { NameInput } from '../contract.ts'
import * as queries from '../queries/rows.ts'

const { symptoms, failure_modes, components, operations } = queries.NAMED

/**
 * The id of the symptom of that name; made when it is new. A name that differs from a known one in case or blanks only is
 * that one. For use inside a write whose own event then covers the row, as are the other three.
 */
export function ensureSymptom(ctx: Context, tx: Tx, name: string): string {
  return queries.idOfName(tx, symptoms, name) ?? insertName(ctx, tx, symptoms, name)
}

/** As `ensureSymptom`. */
export function ensureFailureMode(ctx: Context, tx: Tx, name: string): string {
  return queries.idOfName(tx, failure_modes, name) ?? insertName(ctx, tx, failure_modes, name)
}

/** As `ensureSymptom`. A component made so has no severity until somebody says it. */
export function ensureComponent(ctx: Context, tx: Tx, name: string): string {
  const known = queries.idOfName(tx, components, name)
  if (known !== undefined) return known
  const nothing = {
    severity: null,
    check_minutes: null,
    caution: null,
    remedy_operation_id: null,
    remedy_part_minor: null,
  }
  const row = {
    ...newEditable(ctx),
    name,
    ...nothing,
    causes: [],
    access_step_ids: [],
    makes_safe: false,
    not_before: [],
  }
  queries.insertRow(tx, components, row)
  return row.id
}

/** As `ensureSymptom`. An operation made so has no hours until somebody says them. */
export function ensureOperation(ctx: Context, tx: Tx, name: string): string {
  const known = queries.idOfName(tx, operations, name)
  if (known !== undefined) return known
  const nothing = { hours: null, warranty_days: null, warranty_km: null }
  const row = {
    ...newEditable(ctx),
    name,
    ...nothing,
    access_step_ids: [],
    joints: [],
    looks: [],
    final_checks: [],
    marks: [],
    tools: [],
    turns_engine: false,
    sound_before_after: false,
  }
  queries.insertRow(tx, operations, row)
  return row.id
}

function insertName(ctx: Context, tx: Tx, table: typeof symptoms | typeof failure_modes, name: string): string {
  const row = { ...newRecord(ctx), name }
  queries.insertRow(tx, table, row)
  return row.id
}

/** The id of that name, or 422 at `pointer`. */
export function requireSymptom(read: Read, name: string, pointer: string): string {
  return requireName(read, symptoms, 'symptom', name, pointer)
}

/** The id of that name, or 422 at `pointer`. */
export function requireFailureMode(read: Read, name: string, pointer: string): string {
  return requireName(read, failure_modes, 'failure mode', name, pointer)
}

/** The id of that name, or 422 at `pointer`. */
export function requireComponent(read: Read, name: string, pointer: string): string {
  return requireName(read, components, 'component', name, pointer)
}

/** The id of that name, or 422 at `pointer`. */
export function requireOperation(read: Read, name: string, pointer: string): string {
  return requireName(read, operations, 'operation', name, pointer)
}

function requireName(read: Read, table: queries.NamedTable, what: string, name: string, pointer: string): string {
  const id = queries.idOfName(read, table, name)
  if (id === undefined) throw invalid({ pointer, detail: `There is no ${what} called “${name}”.`, code: 'unknown' })
  return id
}

/** The ids of a list of names, or 422 at each place of the list that names nothing. */
export function requireNames(
  read: Read,
  table: queries.NamedTable,
  what: string,
  names: string[],
  pointer: string,
): string[] {
  return requireEach(names, name => queries.idOfName(read, table, name), what, pointer)
}

/** The ids themselves, or 422 at each place of the list that names nothing. */
export function requireIds(
  read: Read,
  table: queries.NamedTable,
  what: string,
  ids: string[],
  pointer: string,
): string[] {
  const known = new Set(queries.rowsByIds(read, table, ids).map(row => row.id))
  return requireEach(ids, id => (known.has(id) ? id : undefined), what, pointer)
}

function requireEach(
  given: string[],
  find: (text: string) => string | undefined,
  what: string,
  pointer: string,
): string[] {
  const found = given.map(find)
  const errors = given.flatMap((text, at) =>
    found[at] === undefined
      ? [{ pointer: `${pointer}/${at}`, detail: `There is no ${what} “${text}”.`, code: 'unknown' }]
      : [],
  )
  if (errors.length > 0) throw invalid(...errors)
  return [...new Set(found as string[])]
}

/** 409 when another record of the table has that name, whatever its case. */
export function refuseTakenName(read: Read, table: queries.NamedTable, name: string, ownId?: string): void {
  const id = queries.idOfName(read, table, name)
  if (id === undefined || id === ownId) return
  const detail = `The name “${name}” is taken. Use the record that has it, or choose another name.`
  throw problem('name-taken', { detail, errors: [{ pointer: '/name', detail, code: 'taken' }] })
}

/** Anybody: the desk and the technician meet new words first. */
export function createSymptom(ctx: Context, input: NameInput): NamedRecord {
  return createName(ctx, symptoms, 'symptom', input)
}

/** Anybody. */
export function createFailureMode(ctx: Context, input: NameInput): NamedRecord {
  return createName(ctx, failure_modes, 'failure-mode', input)
}

function createName(
  ctx: Context,
  table: typeof symptoms | typeof failure_modes,
  what: string,
  input: NameInput,
): NamedRecord {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    refuseTakenName(tx, table, input.name)
    const row = { ...newRecord(ctx), name: input.name }
    queries.insertRow(tx, table, row)
    recordEvent(ctx, tx, { action: `${what}.created`, table: `${what.replace('-', '_')}s`, id: row.id })
    return toNamed(row)
  })
}

/** By name. */
export function allSymptoms(ctx: Context): NamedRecord[] {
  return queries.allRows(ctx.read, symptoms).map(toNamed)
}

/** By name. */
export function allFailureModes(ctx: Context): NamedRecord[] {
  return queries.allRows(ctx.read, failure_modes).map(toNamed)
}

/** The names of ids, in their order. */
export function symptomNames(ctx: Context, ids: readonly string[]): string[] {
  return queries.namesOf(ctx.read, symptoms, ids)
}

/** The names of ids, in their order. */
export function failureModeNames(ctx: Context, ids: readonly string[]): string[] {
  return queries.namesOf(ctx.read, failure_modes, ids)
}

/** The names of ids, in their order. */
export function componentNames(ctx: Context, ids: readonly string[]): string[] {
  return queries.namesOf(ctx.read, components, ids)
}

/** The names of ids, in their order. */
export function operationNames(ctx: Context, ids: readonly string[]): string[] {
  return queries.namesOf(ctx.read, operations, ids)
}

function toNamed(row: queries.SymptomRow): NamedRecord {
  return { ...row, created_at: toInstant(row.created_at) }
}

import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
import { LAYOUTS, ON_FAILURE, ORDER_NAMES, REUSE, SEVERITIES, type StageKind } from '../core/vocabulary.ts'
import { isBoolean, isJson, isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'

/** The workshop's controlled word for a complaint. */
export const symptoms = sqliteTable('symptoms', { ...record(), name: text('name').notNull().unique() }, table =>
  notEmpty(table.name),
)

/** How a component can fail (ISO 14224 sense). */
export const failure_modes = sqliteTable(
  'failure_modes',
  { ...record(), name: text('name').notNull().unique() },
  table => notEmpty(table.name),
)

/**
 * What can fail. Lists are JSON arrays of ids: ordered values of the record, checked by the service; nothing in the
 * catalogue is ever deleted, so they cannot dangle. `severity` is NULL until somebody has said it (imported names).
 */
export const components = sqliteTable(
  'components',
  {
    ...editable(),
    name: text('name').notNull().unique(),
    severity: text('severity', { enum: SEVERITIES }),
    causes: text('causes', { mode: 'json' }).$type<string[]>().notNull(),
    check_minutes: real('check_minutes'),
    access_step_ids: text('access_step_ids', { mode: 'json' }).$type<string[]>().notNull(),
    makes_safe: integer('makes_safe', { mode: 'boolean' }).notNull(),
    not_before: text('not_before', { mode: 'json' }).$type<string[]>().notNull(),
    caution: text('caution'),
    remedy_operation_id: text('remedy_operation_id').references((): AnySQLiteColumn => operations.id),
    remedy_part_minor: integer('remedy_part_minor'),
  },
  table => [
    oneOf(table.severity, SEVERITIES),
    isBoolean(table.makes_safe),
    ...isJson(table.causes, table.access_step_ids, table.not_before),
    ...notEmpty(table.name, table.caution),
    must('components_minutes', sql`${table.check_minutes} >= 0`),
    ...isSafe(table.remedy_part_minor),
  ],
)

/** A strip-down step that operations share. Lists are JSON arrays of ids (steps it needs; components). */
export const access_steps = sqliteTable(
  'access_steps',
  {
    ...editable(),
    name: text('name').notNull().unique(),
    hours: real('hours').notNull(),
    needs: text('needs', { mode: 'json' }).$type<string[]>().notNull(),
    exposes: text('exposes', { mode: 'json' }).$type<string[]>().notNull(),
    disturbs: text('disturbs', { mode: 'json' }).$type<string[]>().notNull(),
  },
  table => [
    ...isJson(table.needs, table.exposes, table.disturbs),
    ...notEmpty(table.name),
    must('access_steps_hours', sql`${table.hours} >= 0`),
  ],
)

export interface OperationJoint {
  name: string
  procedure_id: string
  behind_step_id?: string
}

export interface OperationLook {
  component_id: string
  severity: 'safety' | 'breakdown' | 'nuisance'
  behind_step_id?: string
  minutes: number
}

/**
 * What is marked or photographed before something comes off: `before_step_id` is the step that takes it off, `behind_step_id`
 * the one behind which it can be seen.
 */
export interface OperationMark {
  text: string
  behind_step_id?: string
  before_step_id?: string
  photo?: boolean
}

/** A tool that goes into the vehicle: the step it is needed for, and the step before which it must be out. */
export interface OperationTool {
  tool: string
  count: number
  for_step_id?: string
  before_step_id?: string
}

/** A catalogue entry. A job copies what it needs, so changing one never changes a job. `hours` is NULL for imported names. */
export const operations = sqliteTable(
  'operations',
  {
    ...editable(),
    name: text('name').notNull().unique(),
    hours: real('hours'),
    access_step_ids: text('access_step_ids', { mode: 'json' }).$type<string[]>().notNull(),
    joints: text('joints', { mode: 'json' }).$type<OperationJoint[]>().notNull(),
    looks: text('looks', { mode: 'json' }).$type<OperationLook[]>().notNull(),
    final_checks: text('final_checks', { mode: 'json' }).$type<string[]>().notNull(),
    marks: text('marks', { mode: 'json' }).$type<OperationMark[]>().notNull(),
    tools: text('tools', { mode: 'json' }).$type<OperationTool[]>().notNull(),
    turns_engine: integer('turns_engine', { mode: 'boolean' }).notNull(),
    sound_before_after: integer('sound_before_after', { mode: 'boolean' }).notNull(),
    warranty_days: integer('warranty_days'),
    warranty_km: real('warranty_km'),
  },
  table => [
    ...isJson(table.access_step_ids, table.joints, table.looks, table.final_checks, table.marks, table.tools),
    isBoolean(table.turns_engine),
    isBoolean(table.sound_before_after),
    ...notEmpty(table.name),
    must('operations_hours', sql`${table.hours} >= 0`),
    must('operations_warranty', sql`${table.warranty_days} >= 0 and ${table.warranty_km} >= 0`),
  ],
)

/** A tightening procedure; what it says stands in its revisions. */
export const procedures = sqliteTable('procedures', { ...record(), name: text('name').notNull().unique() }, table =>
  notEmpty(table.name),
)

export interface ProcedureStage {
  kind: StageKind
  target: number
  lower?: number
  upper?: number
}

/**
 * Append-only: editing makes a new revision, jobs keep theirs. Positions in mm, torque in N·m, angle in degrees. One that
 * names what it supersedes, and why, says that the earlier one was wrong: joints made by that are in doubt.
 */
export const procedure_revisions = sqliteTable(
  'procedure_revisions',
  {
    ...record(),
    procedure_id: text('procedure_id')
      .notNull()
      .references(() => procedures.id),
    revision: integer('revision').notNull(),
    layout: text('layout', { enum: LAYOUTS }).notNull(),
    count: integer('count').notNull(),
    rows: integer('rows'),
    positions: text('positions', { mode: 'json' }).$type<{ x_mm: number; y_mm: number }[]>(),
    order: text('order', { mode: 'json' }).$type<number[]>(),
    order_names: text('order_names', { enum: ORDER_NAMES }),
    stages: text('stages', { mode: 'json' }).$type<ProcedureStage[]>().notNull(),
    thread: text('thread'),
    class: text('class'),
    finish: text('finish'),
    marks: text('marks', { mode: 'json' }).$type<string[]>(),
    reuse: text('reuse', { enum: REUSE }).notNull(),
    severity: text('severity', { enum: SEVERITIES }).notNull(),
    on_failure: text('on_failure', { enum: ON_FAILURE }).notNull(),
    source: text('source').notNull(),
    supersedes_id: text('supersedes_id').references((): AnySQLiteColumn => procedure_revisions.id),
    reason: text('reason'),
  },
  table => [
    uniqueIndex('procedure_revisions_number').on(table.procedure_id, table.revision),
    oneOf(table.layout, LAYOUTS),
    oneOf(table.order_names, ORDER_NAMES),
    oneOf(table.reuse, REUSE),
    oneOf(table.severity, SEVERITIES),
    oneOf(table.on_failure, ON_FAILURE),
    ...isJson(table.positions, table.order, table.stages, table.marks),
    ...notEmpty(table.thread, table.class, table.finish, table.source, table.reason),
    must('procedure_revisions_correction', sql`(${table.supersedes_id} is null) = (${table.reason} is null)`),
    must('procedure_revisions_count', sql`${table.count} between 1 and 200`),
  ],
)

import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, sqliteView, text } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { access_steps } from '../../catalogue/schema.ts'
import { ENGINE_TURNS, OPENING_BEARERS, PART_CONDITIONS } from '../../core/vocabulary.ts'
import { parts, suppliers } from '../../parts/schema.ts'
import { isSafe, must, notEmpty, oneOf } from '../../platform/database/columns.ts'
import { job_joints, job_marks, job_steps, job_tools, jobs } from './jobs.ts'

const stepEvent = () => ({
  ...record(),
  job_step_id: text('job_step_id')
    .notNull()
    .references((): AnySQLiteColumn => job_steps.id),
  at: integer('at').notNull(),
})

/**
 * A strip-down step was opened. Opened again after a closing it counts again: `reason` and `borne_by` then say why, and
 * whether we bear it (NULL: the customer pays).
 */
export const step_openings = sqliteTable(
  'step_openings',
  { ...stepEvent(), reason: text('reason'), borne_by: text('borne_by', { enum: OPENING_BEARERS }) },
  table => [
    ...notEmpty(table.reason),
    oneOf(table.borne_by, OPENING_BEARERS),
    index('step_openings_step').on(table.job_step_id),
  ],
)
export const step_closings = sqliteTable('step_closings', stepEvent(), table => [
  index('step_closings_step').on(table.job_step_id),
])

/** A tool put into the vehicle that must come out before a step is closed; without a step, before any is. */
export const tools_in = sqliteTable(
  'tools_in',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    tool: text('tool').notNull(),
    count: integer('count').notNull(),
    for_step_id: text('for_step_id').references(() => access_steps.id),
    before_step_id: text('before_step_id').references(() => access_steps.id),
    job_tool_id: text('job_tool_id').references(() => job_tools.id),
    at: integer('at').notNull(),
  },
  table => [
    ...notEmpty(table.tool),
    must('tools_in_count', sql`${table.count} >= 1`),
    index('tools_in_job').on(table.job_id),
  ],
)

/**
 * Nothing of it is in the vehicle any more: `count` came out, as many as went in (also where it is NULL), or `not_inside` says
 * how somebody knows that the rest is not in it.
 */
export const tool_removals = sqliteTable(
  'tool_removals',
  {
    ...record(),
    tool_in_id: text('tool_in_id')
      .notNull()
      .unique()
      .references(() => tools_in.id),
    count: integer('count'),
    not_inside: text('not_inside'),
    at: integer('at').notNull(),
  },
  table => [must('tool_removals_count', sql`${table.count} >= 0`), ...notEmpty(table.not_inside)],
)

/** A tool of the plan was not put in, and why: whoever reads the list of tools need not wonder where it is. */
export const tool_omissions = sqliteTable(
  'tool_omissions',
  {
    ...record(),
    job_tool_id: text('job_tool_id')
      .notNull()
      .unique()
      .references(() => job_tools.id),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.reason)],
)

/** Fewer came out than went in: how many, and where the rest may be. The tool stays in until there is a removal. */
export const tool_shortfalls = sqliteTable(
  'tool_shortfalls',
  {
    ...record(),
    tool_in_id: text('tool_in_id')
      .notNull()
      .references(() => tools_in.id),
    count: integer('count').notNull(),
    may_be: text('may_be').notNull(),
    at: integer('at').notNull(),
  },
  table => [
    must('tool_shortfalls_count', sql`${table.count} >= 0`),
    ...notEmpty(table.may_be),
    index('tool_shortfalls_tool').on(table.tool_in_id),
  ],
)

export const part_lines = sqliteTable(
  'part_lines',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    part_id: text('part_id')
      .notNull()
      .references(() => parts.id),
    quantity: real('quantity').notNull(),
    batch: text('batch'),
    supplier_id: text('supplier_id').references(() => suppliers.id),
    condition: text('condition', { enum: PART_CONDITIONS }).notNull(),
    cost_minor: integer('cost_minor').notNull(),
    price_minor: integer('price_minor').notNull(),
    joint_id: text('joint_id').references(() => job_joints.id),
  },
  table => [
    oneOf(table.condition, PART_CONDITIONS),
    ...notEmpty(table.batch),
    ...isSafe(table.cost_minor, table.price_minor),
    must('part_lines_quantity', sql`${table.quantity} > 0`),
    index('part_lines_job').on(table.job_id),
    // a batch that was found bad is looked for by its part, and at each joint
    index('part_lines_part').on(table.part_id),
    index('part_lines_joint').on(table.joint_id).where(sql`${table.joint_id} is not null`),
  ],
)

/** A part line was taken off again: it was not fitted, or it was written down wrongly. It stays, and counts no more. */
export const part_line_removals = sqliteTable(
  'part_line_removals',
  {
    ...record(),
    part_line_id: text('part_line_id')
      .notNull()
      .unique()
      .references(() => part_lines.id),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.reason)],
)

/** The part lines that stand: what is charged, issued and fitted. Who reads them reads this view. */
export const standing_part_lines = sqliteView('standing_part_lines').as(query =>
  query
    .select()
    .from(part_lines)
    .where(sql`not exists (select 1 from part_line_removals off where off.part_line_id = part_lines.id)`),
)

/** A position mark was made, before anything came off. */
export const mark_records = sqliteTable(
  'mark_records',
  {
    ...record(),
    mark_id: text('mark_id')
      .notNull()
      .references(() => job_marks.id),
    at: integer('at').notNull(),
    note: text('note'),
  },
  table => [...notEmpty(table.note), index('mark_records_mark').on(table.mark_id)],
)

/** The engine was turned by hand, or started, with the work of a job in it. */
export const engine_turns = sqliteTable(
  'engine_turns',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    how: text('how', { enum: ENGINE_TURNS }).notNull(),
    at: integer('at').notNull(),
    note: text('note'),
  },
  table => [oneOf(table.how, ENGINE_TURNS), ...notEmpty(table.note), index('engine_turns_job').on(table.job_id)],
)

/** Somebody began to work on a job; the clock runs until it is stopped. */
export const clock_starts = sqliteTable(
  'clock_starts',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    at: integer('at').notNull(),
  },
  table => [index('clock_starts_job').on(table.job_id), index('clock_starts_person').on(table.created_by)],
)

export const clock_stops = sqliteTable('clock_stops', {
  ...record(),
  clock_start_id: text('clock_start_id')
    .notNull()
    .unique()
    .references(() => clock_starts.id),
  at: integer('at').notNull(),
})

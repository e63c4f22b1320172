import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { access_steps } from '../../catalogue/schema.ts'
import { OPENING_BEARERS, PART_CONDITIONS } from '../../core/vocabulary.ts'
import { parts, suppliers } from '../../parts/schema.ts'
import { isSafe, must, notEmpty, oneOf } from '../../platform/database/columns.ts'
import { job_joints, job_steps, jobs } from './jobs.ts'

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

/** A tool put into the vehicle that must come out before a step is closed (or, without a step, before hand-back). */
export const tools_in = sqliteTable(
  'tools_in',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    tool: text('tool').notNull(),
    before_step_id: text('before_step_id').references(() => access_steps.id),
    at: integer('at').notNull(),
  },
  table => [...notEmpty(table.tool), index('tools_in_job').on(table.job_id)],
)

export const tool_removals = sqliteTable('tool_removals', {
  ...record(),
  tool_in_id: text('tool_in_id')
    .notNull()
    .unique()
    .references(() => tools_in.id),
  at: integer('at').notNull(),
})

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
  ],
)

import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
import { access_steps, components, operations, procedure_revisions } from '../catalogue/schema.ts'
import { ARRIVALS, type LineKind, OPENING_BEARERS, PART_CONDITIONS, SEVERITIES, YES_HOW } from '../core/vocabulary.ts'
import { parts, suppliers } from '../parts/schema.ts'
import { isBoolean, isDay, isJson, isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { customers, vehicles } from '../vehicles/schema.ts'

/** One stay of a vehicle. Its state is derived from what was done (rules.ts), never stored. */
export const work_orders = sqliteTable(
  'work_orders',
  {
    ...editable(),
    number: text('number').notNull().unique(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    customer_id: text('customer_id')
      .notNull()
      .references(() => customers.id),
    complaint: text('complaint').notNull(),
    symptom_ids: text('symptom_ids', { mode: 'json' }).$type<string[]>().notNull(),
    odometer_km: real('odometer_km'),
    arrived: text('arrived', { enum: ARRIVALS }).notNull(),
    arrival_note: text('arrival_note'),
    promised_on: text('promised_on'),
    place: text('place'),
    salt: text('salt').notNull(),
  },
  table => [
    oneOf(table.arrived, ARRIVALS),
    isDay(table.promised_on),
    ...isJson(table.symptom_ids),
    ...notEmpty(table.complaint, table.arrival_note, table.place),
    must('work_orders_odometer', sql`${table.odometer_km} >= 0`),
    index('work_orders_vehicle').on(table.vehicle_id),
    index('work_orders_customer').on(table.customer_id),
  ],
)

/**
 * One operation, or a free-text task, on a work order. Name, hours and warranty are copied from the catalogue on the day.
 * `settles_finding_id` names the finding that this job puts right; its costs are then the finding's.
 */
export const jobs = sqliteTable(
  'jobs',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    letter: text('letter').notNull(),
    operation_id: text('operation_id').references(() => operations.id),
    task: text('task').notNull(),
    hours: real('hours').notNull(),
    warranty_days: integer('warranty_days'),
    warranty_km: real('warranty_km'),
    settles_finding_id: text('settles_finding_id'),
  },
  table => [
    uniqueIndex('jobs_letter').on(table.work_order_id, table.letter),
    ...notEmpty(table.task, table.letter),
    must('jobs_hours', sql`${table.hours} >= 0`),
    index('jobs_operation').on(table.operation_id),
  ],
)

/** A job that is not done after all. What was recorded on it stays. */
export const job_voidings = sqliteTable(
  'job_voidings',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .unique()
      .references(() => jobs.id),
    reason: text('reason').notNull(),
  },
  table => notEmpty(table.reason),
)

/** "It is done": needed for a job without steps, joints, looks or checks of its own, which would otherwise never say so. */
export const job_completions = sqliteTable('job_completions', {
  ...record(),
  job_id: text('job_id')
    .notNull()
    .unique()
    .references(() => jobs.id),
  at: integer('at').notNull(),
})

/** The plan of a job: a strip-down step as the catalogue had it on the day. Jobs of one order share a step by `access_step_id`. */
export const job_steps = sqliteTable(
  'job_steps',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    access_step_id: text('access_step_id')
      .notNull()
      .references(() => access_steps.id),
    name: text('name').notNull(),
    hours: real('hours').notNull(),
    needs: text('needs', { mode: 'json' }).$type<string[]>().notNull(),
    exposes: text('exposes', { mode: 'json' }).$type<string[]>().notNull(),
    disturbs: text('disturbs', { mode: 'json' }).$type<string[]>().notNull(),
  },
  table => [
    uniqueIndex('job_steps_once').on(table.job_id, table.access_step_id),
    ...isJson(table.needs, table.exposes, table.disturbs),
  ],
)

/** The plan of a job: a group of fasteners tightened together, with the procedure revision pinned. */
export const job_joints = sqliteTable(
  'job_joints',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    name: text('name').notNull(),
    procedure_revision_id: text('procedure_revision_id')
      .notNull()
      .references(() => procedure_revisions.id),
    behind_step_id: text('behind_step_id').references(() => access_steps.id),
  },
  table => [...notEmpty(table.name), index('job_joints_job').on(table.job_id)],
)

/** The plan of a job: an inspection of a component while it is exposed. */
export const job_looks = sqliteTable(
  'job_looks',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    component_id: text('component_id')
      .notNull()
      .references(() => components.id),
    severity: text('severity', { enum: SEVERITIES }).notNull(),
    behind_step_id: text('behind_step_id').references(() => access_steps.id),
    minutes: real('minutes').notNull(),
  },
  table => [
    oneOf(table.severity, SEVERITIES),
    must('job_looks_minutes', sql`${table.minutes} >= 0`),
    index('job_looks_job').on(table.job_id),
  ],
)

export const job_final_checks = sqliteTable(
  'job_final_checks',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    text: text('text').notNull(),
  },
  table => [...notEmpty(table.text), index('job_final_checks_job').on(table.job_id)],
)

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

/** One line for every conversation with the customer. */
export const talks = sqliteTable(
  'talks',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    with: text('with').notNull(),
    how: text('how').notNull(),
    said: text('said').notNull(),
    promised: text('promised'),
    salt: text('salt').notNull(),
  },
  table => [
    ...notEmpty(table.with, table.how, table.said, table.promised),
    index('talks_order').on(table.work_order_id),
  ],
)

export interface EstimateLine {
  kind: LineKind
  job_id?: string
  part_id?: string
  text: string
  quantity: number
  unit_minor: number
  tax_bp: number
}

/** A version of the estimate. Totals are derived from the lines. */
export const estimates = sqliteTable(
  'estimates',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    version: integer('version').notNull(),
    lines: text('lines', { mode: 'json' }).$type<EstimateLine[]>().notNull(),
    discount_minor: integer('discount_minor'),
  },
  table => [
    uniqueIndex('estimates_version').on(table.work_order_id, table.version),
    ...isJson(table.lines),
    ...isSafe(table.discount_minor),
  ],
)

/** A customer's yes to an amount. */
export const authorisations = sqliteTable(
  'authorisations',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    estimate_id: text('estimate_id').references(() => estimates.id),
    amount_minor: integer('amount_minor').notNull(),
    includes_tax: integer('includes_tax', { mode: 'boolean' }).notNull(),
    said_by: text('said_by').notNull(),
    how: text('how', { enum: YES_HOW }).notNull(),
    at: integer('at').notNull(),
    salt: text('salt').notNull(),
  },
  table => [
    oneOf(table.how, YES_HOW),
    isBoolean(table.includes_tax),
    ...notEmpty(table.said_by),
    ...isSafe(table.amount_minor),
    must('authorisations_amount', sql`${table.amount_minor} >= 0`),
    index('authorisations_order').on(table.work_order_id),
  ],
)

/** As charged: `by` says whether the estimate's word or the book's held for it. */
export interface InvoiceLine extends EstimateLine {
  by: 'estimate' | 'book'
  line_minor: number
}

/** The vehicle has left. The invoice is stored as it was printed; its number comes without a gap. */
export const hand_backs = sqliteTable(
  'hand_backs',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .unique()
      .references(() => work_orders.id),
    at: integer('at').notNull(),
    on: text('on').notNull(),
    odometer_km: real('odometer_km'),
    borne_minor: integer('borne_minor'),
    borne_reason: text('borne_reason'),
    invoice_number: text('invoice_number').notNull().unique(),
    lines: text('lines', { mode: 'json' }).$type<InvoiceLine[]>().notNull(),
    discount_minor: integer('discount_minor').notNull(),
    net_minor: integer('net_minor').notNull(),
    tax: text('tax', { mode: 'json' }).$type<{ tax_bp: number; net_minor: number; tax_minor: number }[]>().notNull(),
    gross_minor: integer('gross_minor').notNull(),
  },
  table => [
    isDay(table.on),
    ...isJson(table.lines, table.tax),
    ...notEmpty(table.borne_reason),
    ...isSafe(table.borne_minor, table.discount_minor, table.net_minor, table.gross_minor),
    index('hand_backs_on').on(table.on),
  ],
)

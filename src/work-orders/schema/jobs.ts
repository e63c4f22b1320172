import { sql } from 'drizzle-orm'
import { index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { access_steps, components, operations, procedure_revisions } from '../../catalogue/schema.ts'
import { SEVERITIES } from '../../core/vocabulary.ts'
import { isBoolean, isJson, must, notEmpty, oneOf } from '../../platform/database/columns.ts'
import { work_orders } from './orders.ts'

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
    turns_engine: integer('turns_engine', { mode: 'boolean' }).notNull(),
    sound_before_after: integer('sound_before_after', { mode: 'boolean' }).notNull(),
  },
  table => [
    uniqueIndex('jobs_letter').on(table.work_order_id, table.letter),
    ...notEmpty(table.task, table.letter),
    must('jobs_hours', sql`${table.hours} >= 0`),
    isBoolean(table.turns_engine),
    isBoolean(table.sound_before_after),
    index('jobs_operation').on(table.operation_id),
    index('jobs_settles').on(table.settles_finding_id),
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

/**
 * The plan of a job: a position mark to make or photograph before a step is opened, or before a joint is touched. It can be
 * seen only once `behind_step_id` is open; `photo` says that a photograph is
 * asked for.
 */
export const job_marks = sqliteTable(
  'job_marks',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    text: text('text').notNull(),
    behind_step_id: text('behind_step_id').references(() => access_steps.id),
    before_step_id: text('before_step_id').references(() => access_steps.id),
    joint_id: text('joint_id').references(() => job_joints.id),
    photo: integer('photo', { mode: 'boolean' }),
  },
  table => [...notEmpty(table.text), isBoolean(table.photo), index('job_marks_job').on(table.job_id)],
)

/** The plan of a job: a tool that goes into the vehicle, the step it is needed for and the step before which it must be out. */
export const job_tools = sqliteTable(
  'job_tools',
  {
    ...record(),
    job_id: text('job_id')
      .notNull()
      .references(() => jobs.id),
    tool: text('tool').notNull(),
    count: integer('count').notNull(),
    for_step_id: text('for_step_id').references(() => access_steps.id),
    before_step_id: text('before_step_id').references(() => access_steps.id),
  },
  table => [
    ...notEmpty(table.tool),
    must('job_tools_count', sql`${table.count} >= 1`),
    index('job_tools_job').on(table.job_id),
  ],
)

import { sql } from 'drizzle-orm'
import { index, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { components, failure_modes, operations, symptoms } from '../catalogue/schema.ts'
import { ADVICES, DOERS, EXACTNESS, SEVERITIES } from '../core/vocabulary.ts'
import { isBoolean, isDay, isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { vehicles } from '../vehicles/schema.ts'
import { job_final_checks, job_looks, jobs, talks, work_orders } from '../work-orders/schema.ts'

/** An operation done earlier, by whomever; dated, roughly dated or not. `on` is the 15th of a month or 1 July of a year. */
export const prior_works = sqliteTable(
  'prior_works',
  {
    ...record(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    operation_id: text('operation_id')
      .notNull()
      .references(() => operations.id),
    by: text('by', { enum: DOERS }).notNull(),
    on: text('on'),
    exactness: text('exactness', { enum: EXACTNESS }).notNull(),
    evidence: text('evidence'),
  },
  table => [
    oneOf(table.by, DOERS),
    oneOf(table.exactness, EXACTNESS),
    isDay(table.on),
    ...notEmpty(table.evidence),
    must('prior_works_dated', sql`(${table.on} is null) = (${table.exactness} = 'unknown')`),
    index('prior_works_vehicle').on(table.vehicle_id),
  ],
)

/** What was seen on a vehicle. `caused_by_*`: the earlier work that a person says caused it. */
export const findings = sqliteTable(
  'findings',
  {
    ...record(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    job_id: text('job_id').references(() => jobs.id),
    component_id: text('component_id')
      .notNull()
      .references(() => components.id),
    failure_mode_id: text('failure_mode_id').references(() => failure_modes.id),
    severity: text('severity', { enum: SEVERITIES }).notNull(),
    found_on: text('found_on').notNull(),
    symptom_id: text('symptom_id').references(() => symptoms.id),
    caused_by_job_id: text('caused_by_job_id').references(() => jobs.id),
    caused_by_prior_work_id: text('caused_by_prior_work_id').references(() => prior_works.id),
    advice: text('advice', { enum: ADVICES }),
    limits: text('limits'),
    note: text('note'),
  },
  table => [
    oneOf(table.severity, SEVERITIES),
    oneOf(table.advice, ADVICES),
    isDay(table.found_on),
    ...notEmpty(table.limits, table.note),
    must('findings_one_cause', sql`${table.caused_by_job_id} is null or ${table.caused_by_prior_work_id} is null`),
    index('findings_vehicle').on(table.vehicle_id),
    index('findings_job').on(table.job_id),
  ],
)

/**
 * A finding was passed on to the customer, in a talk that says to whom, how and what came back ("refused to sign" is an answer).
 * The words stand in the talk alone, where an erasure finds them.
 */
export const advice_tellings = sqliteTable(
  'advice_tellings',
  {
    ...record(),
    finding_id: text('finding_id')
      .notNull()
      .references(() => findings.id),
    talk_id: text('talk_id')
      .notNull()
      .references(() => talks.id),
  },
  table => [index('advice_tellings_finding').on(table.finding_id), index('advice_tellings_talk').on(table.talk_id)],
)

/** The outcome of a look: fine, a finding, or skipped with a reason that stays. */
export const look_results = sqliteTable(
  'look_results',
  {
    ...record(),
    look_id: text('look_id')
      .notNull()
      .unique()
      .references(() => job_looks.id),
    fine: integer('fine', { mode: 'boolean' }),
    finding_id: text('finding_id').references(() => findings.id),
    skipped_reason: text('skipped_reason'),
  },
  table => [isBoolean(table.fine), ...notEmpty(table.skipped_reason)],
)

/**
 * A component that was checked to find what is wrong, planned or not: fine, or a finding. `symptom_id` is the one it was
 * checked for. The newest of a stay counts.
 */
export const checks_made = sqliteTable(
  'checks_made',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    component_id: text('component_id')
      .notNull()
      .references(() => components.id),
    symptom_id: text('symptom_id').references(() => symptoms.id),
    finding_id: text('finding_id').references(() => findings.id),
  },
  table => [index('checks_made_order').on(table.work_order_id), index('checks_made_component').on(table.component_id)],
)

/** The newest result of a check counts: a check that failed is done again after it was put right. */
export const final_check_results = sqliteTable(
  'final_check_results',
  {
    ...record(),
    final_check_id: text('final_check_id')
      .notNull()
      .references(() => job_final_checks.id),
    fine: integer('fine', { mode: 'boolean' }).notNull(),
    finding_id: text('finding_id').references(() => findings.id),
  },
  table => [isBoolean(table.fine), index('final_check_results_check').on(table.final_check_id)],
)

/** Advised work that the customer does not want now. */
export const left_for_later = sqliteTable(
  'left_for_later',
  {
    ...record(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    finding_id: text('finding_id').references(() => findings.id),
    text: text('text').notNull(),
    amount_minor: integer('amount_minor'),
  },
  table => [
    ...notEmpty(table.text),
    ...isSafe(table.amount_minor),
    index('left_for_later_vehicle').on(table.vehicle_id),
  ],
)

export const left_for_later_settlements = sqliteTable('left_for_later_settlements', {
  ...record(),
  left_for_later_id: text('left_for_later_id')
    .notNull()
    .unique()
    .references(() => left_for_later.id),
  job_id: text('job_id')
    .notNull()
    .references(() => jobs.id),
})

import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import {
  BASES,
  DOUBT_CAUSES,
  FASTENER_EVENTS,
  RESUMPTIONS,
  type SecondLook,
  SIGNING_AS,
  TIGHTENING_UNITS,
  VERDICTS,
} from '../core/vocabulary.ts'
import { batch_faults } from '../parts/schema.ts'
import { isBoolean, isJson, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { adapters, gauges, wrenches } from '../tools/schema.ts'
import { job_joints, part_lines } from '../work-orders/schema.ts'

/**
 * One fastener at one stage. Never changed: a correction is a new row that names what it supersedes and why. Limits and
 * uncertainty are those that the verdict was given by; value and unit as entered stand beside the SI value (N·m, degrees).
 * `withdrawn`: what it supersedes was not done; it repeats that, and has no verdict.
 */
export const torque_records = sqliteTable(
  'torque_records',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    position: integer('position').notNull(),
    stage: integer('stage').notNull(),
    fastener: integer('fastener').notNull(),
    value: real('value'),
    unit: text('unit', { enum: TIGHTENING_UNITS }),
    value_si: real('value_si'),
    basis: text('basis', { enum: BASES }),
    wrench_id: text('wrench_id').references(() => wrenches.id),
    wrench_note: text('wrench_note'),
    gauge_id: text('gauge_id').references(() => gauges.id),
    adapter_id: text('adapter_id').references(() => adapters.id),
    adapter_angle_deg: real('adapter_angle_deg'),
    stage_as_set_id: text('stage_as_set_id'),
    made_at: integer('made_at').notNull(),
    out_of_order_reason: text('out_of_order_reason'),
    event: text('event', { enum: FASTENER_EVENTS }),
    supersedes_id: text('supersedes_id').references((): AnySQLiteColumn => torque_records.id),
    reason: text('reason'),
    withdrawn: integer('withdrawn', { mode: 'boolean' }),
    lower: real('lower'),
    upper: real('upper'),
    uncertainty: real('uncertainty'),
    verdict: text('verdict', { enum: VERDICTS }),
    conformance_probability: real('conformance_probability'),
  },
  table => [
    oneOf(table.unit, TIGHTENING_UNITS),
    oneOf(table.basis, BASES),
    oneOf(table.event, FASTENER_EVENTS),
    oneOf(table.verdict, VERDICTS),
    ...notEmpty(table.out_of_order_reason, table.reason, table.wrench_note),
    must('torque_records_value_or_event', sql`(${table.value} is null) <> (${table.event} is null)`),
    must('torque_records_position', sql`${table.position} >= 1 and ${table.stage} >= 1 and ${table.fastener} >= 1`),
    must('torque_records_correction', sql`${table.supersedes_id} is null or ${table.reason} is not null`),
    must(
      'torque_records_withdrawn',
      sql`${table.withdrawn} is null or (${table.withdrawn} = 1 and ${table.supersedes_id} is not null)`,
    ),
    index('torque_records_joint').on(table.joint_id),
    index('torque_records_wrench').on(table.wrench_id, table.made_at),
    // few readings have these two: the others are spared the page that an index writes
    uniqueIndex('torque_records_supersedes').on(table.supersedes_id).where(sql`${table.supersedes_id} is not null`),
    index('torque_records_gauge').on(table.gauge_id, table.made_at).where(sql`${table.gauge_id} is not null`),
  ],
)

/**
 * A person states that a joint is complete. A sign-off counts only while no record of the joint is newer. In a one-person
 * workshop whoever tightened may be the second to look, that many minutes after the first signature, and the record says so.
 */
export const sign_offs = sqliteTable(
  'sign_offs',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    as: text('as', { enum: SIGNING_AS }).notNull(),
    looked_at: text('looked_at', { mode: 'json' }).$type<SecondLook[]>(),
    same_person_after_minutes: integer('same_person_after_minutes'),
  },
  table => [oneOf(table.as, SIGNING_AS), ...isJson(table.looked_at), index('sign_offs_joint').on(table.joint_id)],
)

/**
 * Somebody has said why a joint need not be doubted any more. `cause_id` is the check, drop, batch fault, revision or correction.
 * `as` is NULL where one word settles it; where safety hangs on the joint, a technician's does only with a second person's.
 */
export const doubt_settlements = sqliteTable(
  'doubt_settlements',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    cause: text('cause', { enum: DOUBT_CAUSES }).notNull(),
    cause_id: text('cause_id').notNull(),
    how: text('how').notNull(),
    note: text('note'),
    as: text('as', { enum: SIGNING_AS }),
    checked_with_id: text('checked_with_id').references(() => wrenches.id),
  },
  table => [
    oneOf(table.cause, DOUBT_CAUSES),
    oneOf(table.as, SIGNING_AS),
    ...notEmpty(table.how, table.note),
    index('doubt_settlements_joint').on(table.joint_id),
  ],
)

/** The same for a part of a bad batch that was fitted without a word of the joint. */
export const part_line_settlements = sqliteTable(
  'part_line_settlements',
  {
    ...record(),
    batch_fault_id: text('batch_fault_id')
      .notNull()
      .references(() => batch_faults.id),
    part_line_id: text('part_line_id')
      .notNull()
      .references(() => part_lines.id),
    how: text('how').notNull(),
    note: text('note'),
  },
  table => [
    ...notEmpty(table.how, table.note),
    uniqueIndex('part_line_settlements_once').on(table.batch_fault_id, table.part_line_id),
  ],
)

/** A joint was left half way. `position` and `stage` are the fastener that was next. */
export const joint_leavings = sqliteTable(
  'joint_leavings',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    reason: text('reason').notNull(),
    position: integer('position'),
    stage: integer('stage'),
    at: integer('at').notNull(),
  },
  table => [...notEmpty(table.reason), index('joint_leavings_joint').on(table.joint_id)],
)

/** Whoever came next carried on, or started over: then nothing recorded before it counts any more. */
export const joint_resumptions = sqliteTable(
  'joint_resumptions',
  {
    ...record(),
    leaving_id: text('leaving_id')
      .notNull()
      .unique()
      .references(() => joint_leavings.id),
    how: text('how', { enum: RESUMPTIONS }).notNull(),
    at: integer('at').notNull(),
  },
  table => [oneOf(table.how, RESUMPTIONS)],
)

/** Fasteners that may be used again after inspection were looked at, one for the whole joint. */
export const fastener_inspections = sqliteTable(
  'fastener_inspections',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    fit: integer('fit', { mode: 'boolean' }).notNull(),
    note: text('note'),
  },
  table => [isBoolean(table.fit), ...notEmpty(table.note), index('fastener_inspections_joint').on(table.joint_id)],
)

/** Old single-use fasteners were put back to move the vehicle inside the house: temporary, not for the road. */
export const temporary_uses = sqliteTable(
  'temporary_uses',
  {
    ...record(),
    joint_id: text('joint_id')
      .notNull()
      .references(() => job_joints.id),
    reason: text('reason').notNull(),
    at: integer('at').notNull(),
  },
  table => [...notEmpty(table.reason), index('temporary_uses_joint').on(table.joint_id)],
)

import { sql } from 'drizzle-orm'
import { index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
import { CALIBRATION_RESULTS, GAUGE_KINDS, WRENCH_KINDS } from '../core/vocabulary.ts'
import { isDay, isJson, must, notEmpty, oneOf } from '../platform/database/columns.ts'

/** A torque tool. `class` is its class after ISO 6789 as printed on it; it stands in for U where there is no certificate. */
export const wrenches = sqliteTable(
  'wrenches',
  {
    ...editable(),
    name: text('name').notNull().unique(),
    kind: text('kind', { enum: WRENCH_KINDS }).notNull(),
    min_nm: real('min_nm').notNull(),
    max_nm: real('max_nm').notNull(),
    class: text('class'),
    scale_division_nm: real('scale_division_nm'),
    length_mm: real('length_mm'),
  },
  table => [
    oneOf(table.kind, WRENCH_KINDS),
    ...notEmpty(table.name, table.class),
    must('wrenches_range', sql`${table.min_nm} >= 0 and ${table.max_nm} > ${table.min_nm}`),
    must('wrenches_division', sql`${table.scale_division_nm} > 0`),
    must('wrenches_length', sql`${table.length_mm} > 0`),
  ],
)

/** What a certificate states at a torque of the wrench; `reference_nm` is what the reference showed there, if it says so. */
interface CertificatePoint {
  at_nm: number
  uncertainty_nm: number
  reference_nm?: number | undefined
}

/** A calibration certificate: what was found, and the expanded uncertainty (k = 2) at its points, in N·m. */
export const calibrations = sqliteTable(
  'calibrations',
  {
    ...record(),
    wrench_id: text('wrench_id')
      .notNull()
      .references(() => wrenches.id),
    made_on: text('made_on').notNull(),
    certificate: text('certificate').notNull(),
    found: text('found', { enum: CALIBRATION_RESULTS }).notNull(),
    points: text('points', { mode: 'json' }).$type<CertificatePoint[]>().notNull(),
  },
  table => [
    oneOf(table.found, CALIBRATION_RESULTS),
    isDay(table.made_on),
    ...isJson(table.points),
    ...notEmpty(table.certificate),
    index('calibrations_wrench').on(table.wrench_id, table.made_on),
  ],
)

/** Out of use since `at` (a drop, an overload), which may lie before the row was written. A later good calibration ends it. */
export const withdrawals = sqliteTable(
  'withdrawals',
  {
    ...record(),
    wrench_id: text('wrench_id')
      .notNull()
      .references(() => wrenches.id),
    at: integer('at').notNull(),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.reason), index('withdrawals_wrench').on(table.wrench_id, table.at)],
)

/** What an angle is read from. `uncertainty_deg` is its expanded uncertainty (k = 2), in degrees; without one the setting counts. */
export const gauges = sqliteTable(
  'gauges',
  {
    ...editable(),
    name: text('name').notNull().unique(),
    kind: text('kind', { enum: GAUGE_KINDS }).notNull(),
    uncertainty_deg: real('uncertainty_deg'),
  },
  table => [
    oneOf(table.kind, GAUGE_KINDS),
    ...notEmpty(table.name),
    must('gauges_uncertainty', sql`${table.uncertainty_deg} > 0`),
  ],
)

/** A check of a gauge: what was found. One that was found outside is not used until a later one is good. */
export const gauge_checks = sqliteTable(
  'gauge_checks',
  {
    ...record(),
    gauge_id: text('gauge_id')
      .notNull()
      .references(() => gauges.id),
    made_on: text('made_on').notNull(),
    certificate: text('certificate').notNull(),
    found: text('found', { enum: CALIBRATION_RESULTS }).notNull(),
  },
  table => [
    oneOf(table.found, CALIBRATION_RESULTS),
    isDay(table.made_on),
    ...notEmpty(table.certificate),
    index('gauge_checks_gauge').on(table.gauge_id, table.made_on),
  ],
)

/** A crowfoot or extension that moves the drive away from the wrench's own: its length from drive to drive, in mm. */
export const adapters = sqliteTable(
  'adapters',
  { ...editable(), name: text('name').notNull().unique(), length_mm: real('length_mm').notNull() },
  table => [...notEmpty(table.name), must('adapters_length', sql`${table.length_mm} > 0`)],
)

/**
 * A person says why only later joints are touched by a wrench that was found out than all since its last good check: the
 * time from which it must be doubted.
 */
export const doubted_since = sqliteTable(
  'doubted_since',
  {
    ...record(),
    calibration_id: text('calibration_id')
      .notNull()
      .references(() => calibrations.id),
    at: integer('at').notNull(),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.reason), index('doubted_since_calibration').on(table.calibration_id)],
)

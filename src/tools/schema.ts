import { sql } from 'drizzle-orm'
import { index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
import { CALIBRATION_RESULTS, WRENCH_KINDS } from '../core/vocabulary.ts'
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
  },
  table => [
    oneOf(table.kind, WRENCH_KINDS),
    ...notEmpty(table.name, table.class),
    must('wrenches_range', sql`${table.min_nm} >= 0 and ${table.max_nm} > ${table.min_nm}`),
    must('wrenches_division', sql`${table.scale_division_nm} > 0`),
  ],
)

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
    points: text('points', { mode: 'json' }).$type<{ at_nm: number; uncertainty_nm: number }[]>().notNull(),
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

import { sql } from 'drizzle-orm'
import { integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { ROLES, TORQUE_UNITS } from '../core/vocabulary.ts'
import { isBoolean, isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'

/** Whoever may sign something: a person who logs in, or a token of the API, which is a person of its own. */
export const people = sqliteTable(
  'people',
  {
    id: text('id').primaryKey(),
    created_at: integer('created_at').notNull(),
    created_by: text('created_by'),
    name: text('name').notNull().unique(),
    role: text('role', { enum: ROLES }).notNull(),
    kind: text('kind', { enum: ['person', 'token'] }).notNull(),
  },
  table => [oneOf(table.role, ROLES), oneOf(table.kind, ['person', 'token']), ...notEmpty(table.name)],
)

/** The columns that every record has. `created_by` is NULL for what the command line itself wrote. */
export const record = () => ({
  id: text('id').primaryKey(),
  created_at: integer('created_at').notNull(),
  created_by: text('created_by').references(() => people.id),
})

/** The columns of a record that people edit: its ETag is its version. */
export const editable = () => ({
  ...record(),
  updated_at: integer('updated_at').notNull(),
  version: integer('version').notNull(),
})

/** One for each person who logs in; the id is the person's. */
export const passwords = sqliteTable(
  'passwords',
  {
    id: text('id')
      .primaryKey()
      .references(() => people.id),
    scrypt: text('scrypt').notNull(),
    one_time: integer('one_time', { mode: 'boolean' }).notNull(),
    set_at: integer('set_at').notNull(),
  },
  table => [isBoolean(table.one_time)],
)

/** The id is the SHA-256 of the cookie's token: the file alone opens no session. */
export const sessions = sqliteTable('sessions', {
  id: text('id').primaryKey(),
  person_id: text('person_id')
    .notNull()
    .references(() => people.id),
  created_at: integer('created_at').notNull(),
  expires_at: integer('expires_at').notNull(),
  notice: text('notice'),
})

/** The id is the SHA-256 of the token. */
export const api_tokens = sqliteTable('api_tokens', {
  id: text('id').primaryKey(),
  person_id: text('person_id')
    .notNull()
    .references(() => people.id),
  created_at: integer('created_at').notNull(),
})

/** The one-time link of the first start. The id is the SHA-256 of its secret. */
export const setup_links = sqliteTable('setup_links', {
  id: text('id').primaryKey(),
  created_at: integer('created_at').notNull(),
  used_at: integer('used_at'),
})

/** One row, 'workshop'; while it is absent the defaults of contract.ts hold. */
export const settings = sqliteTable(
  'settings',
  {
    ...editable(),
    name: text('name').notNull(),
    place: text('place'),
    address: text('address'),
    invoice_note: text('invoice_note'),
    time_zone: text('time_zone').notNull(),
    locale: text('locale').notNull(),
    currency: text('currency').notNull(),
    labour_rate_minor: integer('labour_rate_minor').notNull(),
    cost_rate_minor: integer('cost_rate_minor').notNull(),
    our_share_bp: integer('our_share_bp').notNull(),
    tax_bp: integer('tax_bp').notNull(),
    default_tolerance_bp: integer('default_tolerance_bp').notNull(),
    gauge_uncertainty_deg: real('gauge_uncertainty_deg').notNull(),
    warranty_days: integer('warranty_days').notNull(),
    warranty_km: integer('warranty_km').notNull(),
    comeback_window_days: integer('comeback_window_days').notNull(),
    torque_unit: text('torque_unit', { enum: TORQUE_UNITS }).notNull(),
    paint_mark_uncertainty_deg: real('paint_mark_uncertainty_deg').notNull(),
    stage_as_set_on_safety: integer('stage_as_set_on_safety', { mode: 'boolean' }).notNull(),
    look_again_after_minutes: integer('look_again_after_minutes'),
    calibration_months: integer('calibration_months').notNull(),
    calibration_cycles: integer('calibration_cycles').notNull(),
  },
  table => [
    must('settings_one_row', sql`${table.id} = 'workshop'`),
    ...notEmpty(table.name, table.place, table.address, table.invoice_note),
    ...isSafe(table.labour_rate_minor, table.cost_rate_minor),
    oneOf(table.torque_unit, TORQUE_UNITS),
    isBoolean(table.stage_as_set_on_safety),
  ],
)

import { type SQL, sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
import { ODOMETER_UNITS } from '../core/vocabulary.ts'
import { isBoolean, isDay, must, notEmpty, oneOf } from '../platform/database/columns.ts'

/**
 * Who brings a vehicle, agrees and pays. `salt` is chance: it is part of the row's hash in the chain, so that after an
 * erasure (which empties the personal columns and changes the salt) the old digest says nothing about the person.
 * `find_key` is name and telephone, folded for the one box (see rules.ts); an erasure empties it too.
 */
export const customers = sqliteTable(
  'customers',
  {
    ...editable(),
    name: text('name').notNull(),
    phone: text('phone'),
    email: text('email'),
    address: text('address'),
    note: text('note'),
    salt: text('salt').notNull(),
    find_key: text('find_key').notNull(),
  },
  table => [
    ...notEmpty(table.name, table.phone, table.email, table.address, table.note),
    index('customers_name').on(table.name),
  ],
)

/** A make-model that shares procedures; the stratum in statistics. */
export const families = sqliteTable('families', { ...record(), name: text('name').notNull().unique() }, table =>
  notEmpty(table.name),
)

/** A difference inside a family that matters. */
export const variants = sqliteTable('variants', { ...record(), name: text('name').notNull().unique() }, table =>
  notEmpty(table.name),
)

/**
 * A number as it is compared with another: blanks, dashes and case make no other number. Its indexes stand in the migration,
 * where they were written by hand, since drizzle-kit splits an expression at its commas.
 */
export function sameNumber(column: AnySQLiteColumn | SQL) {
  return sql`upper(replace(replace(${column}, ' ', ''), '-', ''))`
}

/**
 * One machine. `find_key` is everything that names it, folded for the one box (see rules.ts). `imported_as` is the
 * text that named it in an imported history.
 */
export const vehicles = sqliteTable(
  'vehicles',
  {
    ...editable(),
    family_id: text('family_id')
      .notNull()
      .references(() => families.id),
    variant_id: text('variant_id').references(() => variants.id),
    plate: text('plate'),
    vin: text('vin'),
    frame_number: text('frame_number'),
    engine_number: text('engine_number'),
    odometer_unit: text('odometer_unit', { enum: ODOMETER_UNITS }).notNull(),
    first_registered_on: text('first_registered_on'),
    imported_as: text('imported_as').unique(),
    find_key: text('find_key').notNull(),
  },
  table => [
    oneOf(table.odometer_unit, ODOMETER_UNITS),
    isDay(table.first_registered_on),
    ...notEmpty(table.plate, table.vin, table.frame_number, table.engine_number, table.imported_as),
    index('vehicles_family').on(table.family_id),
  ],
)

/** Whose it is: a dated row for each change. The newest is the keeper now; NULL is nobody known. */
export const keepers = sqliteTable(
  'keepers',
  {
    ...record(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    customer_id: text('customer_id').references(() => customers.id),
  },
  table => [index('keepers_vehicle').on(table.vehicle_id), index('keepers_customer').on(table.customer_id)],
)

export const odometer_readings = sqliteTable(
  'odometer_readings',
  {
    ...record(),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    on: text('on').notNull(),
    distance_km: real('distance_km').notNull(),
    display_replaced: integer('display_replaced', { mode: 'boolean' }).notNull(),
  },
  table => [
    isDay(table.on),
    isBoolean(table.display_replaced),
    must('odometer_readings_distance', sql`${table.distance_km} >= 0`),
    index('odometer_readings_vehicle').on(table.vehicle_id, table.on),
  ],
)

/** A person's words were emptied at their wish; what was done on the vehicles stays. */
export const customer_erasures = sqliteTable(
  'customer_erasures',
  {
    ...record(),
    customer_id: text('customer_id')
      .notNull()
      .unique()
      .references(() => customers.id),
    reason: text('reason').notNull(),
  },
  table => notEmpty(table.reason),
)

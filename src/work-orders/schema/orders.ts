import { sql } from 'drizzle-orm'
import { index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../../accounts/schema.ts'
import { ARRIVALS, OLD_PARTS_WISHES } from '../../core/vocabulary.ts'
import { isDay, isJson, isSafe, must, notEmpty, oneOf } from '../../platform/database/columns.ts'
import { customers, vehicles } from '../../vehicles/schema.ts'
import type { EstimateLine } from './agreement-lines.ts'

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
    damage: text('damage'),
    fuel: text('fuel'),
    belongings: text('belongings'),
    keys: text('keys'),
    old_parts: text('old_parts', { enum: OLD_PARTS_WISHES }),
    odometer_unread: text('odometer_unread'),
    salt: text('salt').notNull(),
  },
  table => [
    oneOf(table.arrived, ARRIVALS),
    isDay(table.promised_on),
    ...isJson(table.symptom_ids),
    oneOf(table.old_parts, OLD_PARTS_WISHES),
    ...notEmpty(table.complaint, table.arrival_note, table.place),
    ...notEmpty(table.damage, table.fuel, table.belongings, table.keys, table.odometer_unread),
    must('work_orders_odometer', sql`${table.odometer_km} >= 0`),
    index('work_orders_vehicle').on(table.vehicle_id),
    index('work_orders_customer').on(table.customer_id),
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

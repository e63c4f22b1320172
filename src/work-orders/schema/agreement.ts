import { sql } from 'drizzle-orm'
import { index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { YES_HOW } from '../../core/vocabulary.ts'
import { isBoolean, isJson, isSafe, must, notEmpty, oneOf } from '../../platform/database/columns.ts'
import type { EstimateLine } from './agreement-lines.ts'
import { work_orders } from './orders.ts'

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

/** A yes that was written down wrongly: it stays, and counts no more. */
export const authorisation_withdrawals = sqliteTable(
  'authorisation_withdrawals',
  {
    ...record(),
    authorisation_id: text('authorisation_id')
      .notNull()
      .unique()
      .references(() => authorisations.id),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.reason)],
)

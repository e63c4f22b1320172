import { sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { isDay, isJson, notEmpty } from '../platform/database/columns.ts'

/** A month as it was issued, once: its figures as data, printed from here for ever, and sealed by the record chain. */
export const month_issues = sqliteTable(
  'month_issues',
  {
    ...record(),
    month: text('month').notNull().unique(),
    as_known_on: text('as_known_on').notNull(),
    method: text('method').notNull(),
    figures: text('figures').notNull(),
  },
  table => [isDay(table.as_known_on), ...isJson(table.figures), ...notEmpty(table.month, table.method)],
)

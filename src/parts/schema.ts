import { integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable } from '../accounts/schema.ts'
import { isBoolean, notEmpty } from '../platform/database/columns.ts'

export const parts = sqliteTable(
  'parts',
  {
    ...editable(),
    number: text('number').notNull().unique(),
    name: text('name').notNull(),
    single_use: integer('single_use', { mode: 'boolean' }).notNull(),
  },
  table => [isBoolean(table.single_use), ...notEmpty(table.number, table.name)],
)

export const suppliers = sqliteTable('suppliers', { ...editable(), name: text('name').notNull().unique() }, table =>
  notEmpty(table.name),
)

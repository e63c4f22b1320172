import { index, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { editable, record } from '../accounts/schema.ts'
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

/** A batch of a part was found bad: every joint that got any of it is in doubt. */
export const batch_faults = sqliteTable(
  'batch_faults',
  {
    ...record(),
    part_id: text('part_id')
      .notNull()
      .references(() => parts.id),
    batch: text('batch').notNull(),
    reason: text('reason').notNull(),
  },
  table => [...notEmpty(table.batch, table.reason), index('batch_faults_part').on(table.part_id, table.batch)],
)

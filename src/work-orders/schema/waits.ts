import { index, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { isDay, notEmpty } from '../../platform/database/columns.ts'
import { work_orders } from './orders.ts'

const ofOrder = () =>
  text('work_order_id')
    .notNull()
    .references(() => work_orders.id)

/** The day that the customer was promised was moved: `was_on` is the one before, NULL where no day had been promised. */
export const moved_promises = sqliteTable(
  'moved_promises',
  { ...record(), work_order_id: ofOrder(), was_on: text('was_on'), now_on: text('now_on') },
  table => [isDay(table.was_on), isDay(table.now_on), index('moved_promises_order').on(table.work_order_id)],
)

/** Something that the vehicle waits for: what, from whom, and when it is expected. It waits until there is an arrival. */
export const waits = sqliteTable(
  'waits',
  {
    ...record(),
    work_order_id: ofOrder(),
    what: text('what').notNull(),
    from_whom: text('from_whom'),
    expected_on: text('expected_on'),
  },
  table => [
    isDay(table.expected_on),
    ...notEmpty(table.what, table.from_whom),
    index('waits_order').on(table.work_order_id),
  ],
)

/** It is here, or nobody waits for it any more (`note`). */
export const wait_ends = sqliteTable(
  'wait_ends',
  {
    ...record(),
    wait_id: text('wait_id')
      .notNull()
      .unique()
      .references(() => waits.id),
    note: text('note'),
  },
  table => [...notEmpty(table.note)],
)

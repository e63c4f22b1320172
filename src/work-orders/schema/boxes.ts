import { index, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../../accounts/schema.ts'
import { notEmpty } from '../../platform/database/columns.ts'
import { work_orders } from './orders.ts'

/** A box of loose parts that came off a vehicle. Where it stands is its newest place. */
export const part_boxes = sqliteTable(
  'part_boxes',
  {
    ...record(),
    work_order_id: text('work_order_id')
      .notNull()
      .references(() => work_orders.id),
    what: text('what').notNull(),
  },
  table => [...notEmpty(table.what), index('part_boxes_order').on(table.work_order_id)],
)

/** Put somewhere; NULL: it is empty, everything is back on the vehicle. */
export const box_places = sqliteTable(
  'box_places',
  {
    ...record(),
    box_id: text('box_id')
      .notNull()
      .references(() => part_boxes.id),
    place: text('place'),
  },
  table => [...notEmpty(table.place), index('box_places_box').on(table.box_id)],
)

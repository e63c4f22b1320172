import { asc, eq, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { box_places, part_boxes } from '../schema.ts'

export type PartBoxRow = typeof part_boxes.$inferSelect
export type BoxPlaceRow = typeof box_places.$inferSelect

export const insertPartBox = hotInsert(part_boxes)
export const insertBoxPlace = hotInsert(box_places)

const ofOrder = hot((read: Read) =>
  read
    .select()
    .from(part_boxes)
    .where(eq(part_boxes.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(part_boxes.id))
    .prepare(),
)

/** Oldest first. */
export function boxesOfOrder(read: Read, orderId: string): PartBoxRow[] {
  return ofOrder(read).all({ orderId })
}

export function boxRow(read: Read, id: string): PartBoxRow | undefined {
  return read.select().from(part_boxes).where(eq(part_boxes.id, id)).get()
}

const placesOf = hot((read: Read) =>
  read.select().from(box_places).where(isAmong(box_places.box_id, 'boxIds')).orderBy(asc(box_places.id)).prepare(),
)

/** Oldest first. */
export function placesOfBoxes(read: Read, boxIds: string[]): BoxPlaceRow[] {
  return placesOf(read).all({ boxIds: idList(boxIds) })
}

import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { BoxPlace, BoxPlaceInput, PartBox, PartBoxInput } from '../contract.ts'
import * as queries from '../queries/boxes.ts'
import { requireOrder, requireOrderInHouse } from './known.ts'

/** Desk or technician. 404 for an unknown order, 409 once it was handed back. */
export function addPartBox(ctx: Context, orderId: string, { what, place }: PartBoxInput): PartBox {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireOrderInHouse(ctx, orderId)
    const box = { ...newRecord(ctx), work_order_id: orderId, what }
    const stands = { ...newRecord(ctx), box_id: box.id, place }
    queries.insertPartBox(tx, box)
    queries.insertBoxPlace(tx, stands)
    recordEvent(ctx, tx, { action: 'box.added', table: 'part_boxes', id: box.id })
    return toWire(box, [stands])
  })
}

/** Desk or technician. Moves a box, or says that it is empty; also after the hand-back, for what was left lying. 404. */
export function placePartBox(ctx: Context, boxId: string, { place }: BoxPlaceInput): BoxPlace {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    if (queries.boxRow(tx, boxId) === undefined) throw notFound('box', boxId)
    const row = { ...newRecord(ctx), box_id: boxId, place: place ?? null }
    queries.insertBoxPlace(tx, row)
    recordEvent(ctx, tx, { action: place === undefined ? 'box.emptied' : 'box.moved', table: 'box_places', id: row.id })
    return placeToWire(row)
  })
}

/** Oldest first. 404 for an unknown order. */
export function partBoxesOfOrder(ctx: Context, orderId: string): PartBox[] {
  requireOrder(ctx, orderId)
  const boxes = queries.boxesOfOrder(ctx.read, orderId)
  const places = queries.placesOfBoxes(
    ctx.read,
    boxes.map(box => box.id),
  )
  return boxes.map(box =>
    toWire(
      box,
      places.filter(place => place.box_id === box.id),
    ),
  )
}

/** 404 when there is none. */
export function partBoxById(ctx: Context, id: string): PartBox {
  const box = queries.boxRow(ctx.read, id)
  if (box === undefined) throw notFound('box', id)
  return toWire(box, queries.placesOfBoxes(ctx.read, [id]))
}

/** Where a box stands, or null: it is empty. */
export function placeOfBox({ places }: PartBox): string | null {
  return places.at(-1)?.place ?? null
}

function toWire(box: queries.PartBoxRow, places: queries.BoxPlaceRow[]): PartBox {
  return { ...box, created_at: toInstant(box.created_at), places: places.map(placeToWire) }
}

function placeToWire({ place, ...row }: queries.BoxPlaceRow): BoxPlace {
  return { ...row, created_at: toInstant(row.created_at), ...(place !== null && { place }) }
}

import { settingsOf } from '../../accounts/index.ts'
import { ensureSymptom, symptomNames } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { yearNumber } from '../../platform/database/counters.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { known } from '../../platform/problems.ts'
import { edited, newEditable, newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import { customerById, recordOdometer, vehicleById } from '../../vehicles/index.ts'
import type { WorkOrderInput, WorkOrderPatch, WorkOrderRecord } from '../contract.ts'
import { eraseWords } from '../queries/agreement.ts'
import * as queries from '../queries/orders.ts'
import { insertMovedPromise } from '../queries/waits.ts'
import { requireOrder, requireOrderInHouse } from './known.ts'

export type OrdersAsked = queries.OrdersAsked

/**
 * Desk. Takes a vehicle in: the order gets its number, unknown symptoms are made, and a reading of the odometer is recorded
 * on the day. 422 for an unknown vehicle or customer.
 */
export function openWorkOrder(ctx: Context, input: WorkOrderInput): WorkOrderRecord {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const today = localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
    const { vehicle, rest } = together({
      vehicle: () => known('/vehicle_id', () => vehicleById(ctx, input.vehicle_id)),
      rest: () => columns(ctx, tx, input),
    })
    const row = {
      ...newEditable(ctx),
      number: yearNumber(ctx, tx, 'work-order', Number(today.slice(0, 4))),
      ...rest,
      vehicle_id: vehicle.id,
      salt: ctx.ids.next(),
    }
    queries.insertWorkOrder(tx, row)
    recordEvent(ctx, tx, { action: 'work-order.opened', table: 'work_orders', id: row.id })
    readOdometer(ctx, row, today)
    return toRecord(ctx, row)
  })
}

/** Desk. `version` is the one that the person read. A new odometer reading is recorded on the day. */
export function updateWorkOrder(ctx: Context, id: string, version: number, patch: WorkOrderPatch): WorkOrderRecord {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const row = requireOrderInHouse(ctx, id)
    requireVersion(row.version, version)
    const changed = { ...row, ...columns(ctx, tx, mergePatch(toInput(ctx, row), patch)), ...edited(ctx, row) }
    queries.changeWorkOrder(tx, changed)
    if (changed.promised_on !== row.promised_on) {
      const days = { was_on: row.promised_on, now_on: changed.promised_on }
      insertMovedPromise(tx, { ...newRecord(ctx), work_order_id: id, ...days })
    }
    recordEvent(ctx, tx, { action: 'work-order.edited', table: 'work_orders', id })
    if (changed.odometer_km !== row.odometer_km) {
      readOdometer(ctx, changed, localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone))
    }
    return toRecord(ctx, changed)
  })
}

/** 404 when there is none. */
export function workOrderById(ctx: Context, id: string): WorkOrderRecord {
  return toRecord(ctx, requireOrder(ctx, id))
}

/** Undefined when there is none of that number. */
export function workOrderByNumber(ctx: Context, number: string): WorkOrderRecord | undefined {
  const row = queries.findWorkOrderByNumber(ctx.read, number)
  return row && toRecord(ctx, row)
}

/** The order on which the invoice of that number was made; undefined when there is none. */
export function workOrderOfInvoice(ctx: Context, invoiceNumber: string): WorkOrderRecord | undefined {
  const row = queries.findWorkOrderOfInvoice(ctx.read, invoiceNumber)
  return row && toRecord(ctx, row)
}

/** Newest first, after an id: those in the house (`handed_back: false`), those that have left, or all. */
export function workOrders(ctx: Context, asked: OrdersAsked): WorkOrderRecord[] {
  return queries.findWorkOrders(ctx.read, asked).map(row => toRecord(ctx, row))
}

/** Every order whose vehicle is here, oldest first. */
export function ordersInHouse(ctx: Context): WorkOrderRecord[] {
  return workOrders(ctx, { handed_back: false }).toReversed()
}

/** The stays of a vehicle that is here, newest first; more than one only when somebody said so. */
export function ordersInHouseOf(ctx: Context, vehicleId: string): WorkOrderRecord[] {
  return queries.findOpenOrdersOfVehicle(ctx.read, vehicleId).map(row => toRecord(ctx, row))
}

/** Newest first. */
export function workOrdersOfVehicle(ctx: Context, vehicleId: string): WorkOrderRecord[] {
  return queries.findWorkOrdersOfVehicle(ctx.read, vehicleId).map(row => toRecord(ctx, row))
}

/** Newest first. */
export function workOrdersOfCustomer(ctx: Context, customerId: string): WorkOrderRecord[] {
  return queries.findWorkOrdersOfCustomer(ctx.read, customerId).map(row => toRecord(ctx, row))
}

/**
 * Empties what a customer said and agreed in all their orders (complaint, talks, who said yes), for the erasure of a
 * person. The chain stays whole: the words' rows get a new salt. The caller's event covers the rows.
 */
export function emptyOrdersOfCustomer(ctx: Context, tx: Tx, customerId: string): void {
  const ids = queries.findWorkOrdersOfCustomer(tx, customerId).map(row => row.id)
  eraseWords(tx, ids, () => ctx.ids.next(), ctx.clock.now())
}

function readOdometer(ctx: Context, row: queries.WorkOrderRow, on: string): void {
  if (row.odometer_km !== null) recordOdometer(ctx, row.vehicle_id, { on, distance_km: row.odometer_km })
}

function columns(ctx: Context, tx: Tx, input: WorkOrderInput) {
  return {
    customer_id: known('/customer_id', () => customerById(ctx, input.customer_id)).id,
    complaint: input.complaint,
    symptom_ids: [...new Set(input.symptoms.map(name => ensureSymptom(ctx, tx, name)))],
    odometer_km: input.odometer_km ?? null,
    arrived: input.arrived,
    arrival_note: input.arrival_note ?? null,
    promised_on: input.promised_on ?? null,
    place: input.place ?? null,
    damage: input.damage ?? null,
    fuel: input.fuel ?? null,
    belongings: input.belongings ?? null,
    keys: input.keys ?? null,
    old_parts: input.old_parts ?? null,
    odometer_unread: input.odometer_unread ?? null,
  }
}

function toInput(ctx: Context, row: queries.WorkOrderRow): WorkOrderInput {
  const { vehicle_id, customer_id, complaint, odometer_km, arrived, arrival_note, promised_on, place } = row
  const { damage, fuel, belongings, keys, old_parts, odometer_unread } = row
  const symptoms = symptomNames(ctx, row.symptom_ids)
  return withoutNulls({
    ...{ vehicle_id, customer_id, complaint, symptoms, odometer_km, arrived, arrival_note, promised_on, place },
    ...{ damage, fuel, belongings, keys, old_parts, odometer_unread },
  })
}

function toRecord(ctx: Context, row: queries.WorkOrderRow): WorkOrderRecord {
  const { id, created_by, version, number } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  return { id, created_at, created_by, updated_at, version, number, ...toInput(ctx, row) }
}

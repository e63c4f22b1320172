import { and, desc, eq, isNotNull, isNull, lt, type SQL, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { hand_backs, work_orders } from '../schema.ts'

export type WorkOrderRow = typeof work_orders.$inferSelect
export type HandBackRow = typeof hand_backs.$inferSelect

export const insertWorkOrder = hotInsert(work_orders)

export function changeWorkOrder(tx: Tx, row: WorkOrderRow): void {
  tx.update(work_orders).set(row).where(eq(work_orders.id, row.id)).run()
}

const orderOfId = hot((read: Read) =>
  read
    .select()
    .from(work_orders)
    .where(eq(work_orders.id, sql.placeholder('id')))
    .prepare(),
)

export function findWorkOrder(read: Read, id: string): WorkOrderRow | undefined {
  return orderOfId(read).get({ id })
}

const orderOfNumber = hot((read: Read) =>
  read
    .select()
    .from(work_orders)
    .where(eq(work_orders.number, sql.placeholder('number')))
    .prepare(),
)

export function findWorkOrderByNumber(read: Read, number: string): WorkOrderRow | undefined {
  return orderOfNumber(read).get({ number })
}

export function findWorkOrderOfInvoice(read: Read, invoiceNumber: string): WorkOrderRow | undefined {
  return read
    .select({ order: work_orders })
    .from(hand_backs)
    .innerJoin(work_orders, eq(work_orders.id, hand_backs.work_order_id))
    .where(eq(hand_backs.invoice_number, invoiceNumber))
    .get()?.order
}

const ordersOfVehicle = hot((read: Read) =>
  read
    .select()
    .from(work_orders)
    .where(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(desc(work_orders.id))
    .prepare(),
)

/** Newest first. */
export function findWorkOrdersOfVehicle(read: Read, vehicleId: string): WorkOrderRow[] {
  return ordersOfVehicle(read).all({ vehicleId })
}

const openOrdersOfVehicle = hot((read: Read) =>
  read
    .select({ order: work_orders })
    .from(work_orders)
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .where(and(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')), isNull(hand_backs.id)))
    .orderBy(desc(work_orders.id))
    .prepare(),
)

/** Those that are not handed back, newest first. */
export function findOpenOrdersOfVehicle(read: Read, vehicleId: string): WorkOrderRow[] {
  return openOrdersOfVehicle(read)
    .all({ vehicleId })
    .map(row => row.order)
}

export function findWorkOrdersOfCustomer(read: Read, customerId: string): WorkOrderRow[] {
  return read
    .select()
    .from(work_orders)
    .where(eq(work_orders.customer_id, customerId))
    .orderBy(desc(work_orders.id))
    .all()
}

/** Which part of all orders is asked for: those in the house, those handed back, or both; after an id, newest first. */
export interface OrdersAsked {
  handed_back?: boolean
  after?: string
  limit?: number
}

export function findWorkOrders(read: Read, asked: OrdersAsked): WorkOrderRow[] {
  const conditions: SQL[] = []
  if (asked.handed_back === true) conditions.push(isNotNull(hand_backs.id))
  if (asked.handed_back === false) conditions.push(isNull(hand_backs.id))
  if (asked.after !== undefined) conditions.push(lt(work_orders.id, asked.after))
  return read
    .select({ order: work_orders })
    .from(work_orders)
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .where(and(...conditions))
    .orderBy(desc(work_orders.id))
    .limit(asked.limit ?? -1)
    .all()
    .map(row => row.order)
}

export const insertHandBackRow = hotInsert(hand_backs)

const handBackOfOrder = hot((read: Read) =>
  read
    .select()
    .from(hand_backs)
    .where(eq(hand_backs.work_order_id, sql.placeholder('orderId')))
    .prepare(),
)

export function findHandBack(read: Read, orderId: string): HandBackRow | undefined {
  return handBackOfOrder(read).get({ orderId })
}

/**
 * Whether a finding is one of this vehicle. Findings belong to a capability after this one, whose tables this one does not
 * know; a job that names a finding is still checked here, where the job is written.
 */
export function isFindingOfVehicle(read: Read, findingId: string, vehicleId: string): boolean {
  return (
    read.get(sql`select 1 as one from findings where id = ${findingId} and vehicle_id = ${vehicleId}`) !== undefined
  )
}

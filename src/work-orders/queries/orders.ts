import { and, asc, desc, eq, gt, inArray, isNotNull, isNull, type SQL, sql } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { hand_backs, work_orders } from '../schema.ts'

export type WorkOrderRow = typeof work_orders.$inferSelect
export type HandBackRow = typeof hand_backs.$inferSelect

export function insertWorkOrder(tx: Tx, row: WorkOrderRow): void {
  tx.insert(work_orders).values(row).run()
}

export function changeWorkOrder(tx: Tx, row: WorkOrderRow): void {
  tx.update(work_orders).set(row).where(eq(work_orders.id, row.id)).run()
}

export function findWorkOrder(read: Read, id: string): WorkOrderRow | undefined {
  return read.select().from(work_orders).where(eq(work_orders.id, id)).get()
}

export function findWorkOrderByNumber(read: Read, number: string): WorkOrderRow | undefined {
  return read.select().from(work_orders).where(eq(work_orders.number, number)).get()
}

/** Newest first. */
export function findWorkOrdersOfVehicle(read: Read, vehicleId: string): WorkOrderRow[] {
  return read
    .select()
    .from(work_orders)
    .where(eq(work_orders.vehicle_id, vehicleId))
    .orderBy(desc(work_orders.id))
    .all()
}

export function findWorkOrdersOfCustomer(read: Read, customerId: string): WorkOrderRow[] {
  return read
    .select()
    .from(work_orders)
    .where(eq(work_orders.customer_id, customerId))
    .orderBy(desc(work_orders.id))
    .all()
}

/** Which part of all orders is asked for: those in the house, those handed back, or both; after an id, oldest first. */
export interface OrdersAsked {
  handed_back?: boolean
  after?: string
  limit?: number
}

export function findWorkOrders(read: Read, asked: OrdersAsked): WorkOrderRow[] {
  const conditions: SQL[] = []
  if (asked.handed_back === true) conditions.push(isNotNull(hand_backs.id))
  if (asked.handed_back === false) conditions.push(isNull(hand_backs.id))
  if (asked.after !== undefined) conditions.push(gt(work_orders.id, asked.after))
  return read
    .select({ order: work_orders })
    .from(work_orders)
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .where(and(...conditions))
    .orderBy(asc(work_orders.id))
    .limit(asked.limit ?? -1)
    .all()
    .map(row => row.order)
}

export function insertHandBackRow(tx: Tx, row: HandBackRow): void {
  tx.insert(hand_backs).values(row).run()
}

export function findHandBack(read: Read, orderId: string): HandBackRow | undefined {
  return read.select().from(hand_backs).where(eq(hand_backs.work_order_id, orderId)).get()
}

export function findHandBacks(read: Read, orderIds: string[]): HandBackRow[] {
  return read.select().from(hand_backs).where(inArray(hand_backs.work_order_id, orderIds)).all()
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

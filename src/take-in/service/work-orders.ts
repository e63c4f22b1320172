import type { WorkOrderState } from '../../core/vocabulary.ts'
import { type Doubt, openDoubts } from '../../fastening/index.ts'
import { standingOfOrder } from '../../hand-back/index.ts'
import type { Context } from '../../platform/context.ts'
import type { Reason } from '../../platform/contract.ts'
import {
  openWorkOrder,
  ordersInHouse,
  updateWorkOrder,
  type WorkOrderInput,
  type WorkOrderPatch,
  type WorkOrderRecord,
  workOrderById,
  workOrders,
} from '../../work-orders/index.ts'
import type { FoundInBox, WorkOrder } from '../contract.ts'
import type { Flag } from '../rules/flags.ts'
import { findInBox } from './find.ts'
import { flagsOf } from './flags.ts'

/** The order with its state, flags, blockers, questions and totals. 404 when there is none. */
export function workOrderInFull(ctx: Context, id: string): WorkOrder {
  return inFull(ctx, workOrderById(ctx, id), () => openDoubts(ctx))
}

/** Desk. Takes a vehicle in. 422 for an unknown vehicle or customer. */
export function openInFull(ctx: Context, input: WorkOrderInput): WorkOrder {
  return workOrderInFull(ctx, openWorkOrder(ctx, input).id)
}

/** Desk. 412 when the record has moved on from `version`; 409 once it was handed back. */
export function changeInFull(ctx: Context, id: string, version: number, patch: WorkOrderPatch): WorkOrder {
  return workOrderInFull(ctx, updateWorkOrder(ctx, id, version, patch).id)
}

/** The one box as records. */
export function foundInFull(ctx: Context, q: string): FoundInBox {
  const { stays, left, vehicles, customers } = findInBox(ctx, q)
  const orders = [...stays.map(stay => stay.order), ...left.map(each => each.order)]
  return {
    work_orders: orders.map(order => workOrderInFull(ctx, order.id)),
    vehicles: vehicles.map(({ title: _, keeper: __, ...vehicle }) => vehicle),
    customers,
  }
}

function inFull(ctx: Context, order: WorkOrderRecord, doubts: () => readonly Doubt[]): WorkOrder {
  const { state, blockers, to_ask, charges } = standingOfOrder(ctx, order.id)
  const flags = state === 'handed_back' ? [] : flagsOf(ctx, { vehicle_id: order.vehicle_id, order }, doubts())
  return {
    ...order,
    state,
    flags: flags.map(asReason),
    blockers,
    to_ask,
    total_minor: charges.total_minor,
    agreed_minor: charges.agreed_minor,
  }
}

function asReason({ reason, sentence, because, href }: Flag): Reason {
  return { reason, sentence: because === '' ? sentence : `${sentence} ${because}`, href }
}

export interface OrdersWanted {
  /** Left out: all. */
  state?: WorkOrderState | undefined
  /** The id of the last order of the page before. */
  after: string | null
  limit: number
}

/**
 * Newest first, at most `limit`. A state is worked out, not stored: whether the vehicle has left is a row, and of those in
 * the house, which are few, each is looked at.
 */
export function listWorkOrders(ctx: Context, wanted: OrdersWanted): WorkOrder[] {
  let doubts: readonly Doubt[] | undefined
  const readOnce = () => {
    doubts ??= openDoubts(ctx)
    return doubts
  }
  return recordsWanted(ctx, wanted).map(order => inFull(ctx, order, readOnce))
}

function recordsWanted(ctx: Context, { state, after, limit }: OrdersWanted): WorkOrderRecord[] {
  const page = { limit, ...(after !== null && { after }) }
  if (state === undefined) return workOrders(ctx, page)
  if (state === 'handed_back') return workOrders(ctx, { ...page, handed_back: true })
  const found: WorkOrderRecord[] = []
  for (const order of ordersInHouse(ctx).toReversed()) {
    if (found.length === limit) break
    if (after !== null && order.id >= after) continue
    if (standingOfOrder(ctx, order.id).state === state) found.push(order)
  }
  return found
}

import {
  type AdviceTelling,
  adviceTellingsOf,
  type Finding,
  findingsOnJobs,
  type LeftForLater,
  leftForLaterOn,
} from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { chainHead } from '../../platform/database/events.ts'
import { type Customer, customerById, type Vehicle, vehicleById } from '../../vehicles/index.ts'
import { handBackOf, labourOfPlan, type WorkOrderRecord, workOrderById } from '../../work-orders/index.ts'
import type { HandBack } from '../contract.ts'
import { handBackById } from './hand-back.ts'
import { type Standing, standingOfOrder } from './standing.ts'

/** Everything that the hand-back form and the invoice say. */
export interface HandBackSheet {
  order: WorkOrderRecord
  vehicle: Vehicle
  customer: Customer
  standing: Standing
  /** Null while the vehicle is in the house. */
  hand_back: HandBack | null
  /** Hours of the order with shared strip-down once. */
  hours: number
  /** Seen during this stay. */
  findings: Finding[]
  /** Who was told of which, oldest first. */
  tellings: AdviceTelling[]
  /** Advised, not wanted yet, and not settled since. */
  left_for_later: LeftForLater[]
  /** The newest link of the record chain, which stands on paper so that a missing tail can be found. */
  chain: { seq: number; hash: string }
}

/** 404 for an unknown order. */
export function handBackSheet(ctx: Context, orderId: string): HandBackSheet {
  const order = workOrderById(ctx, orderId)
  const standing = standingOfOrder(ctx, orderId)
  const jobIds = standing.plan.jobs.map(job => job.id)
  return {
    order,
    vehicle: vehicleById(ctx, order.vehicle_id),
    customer: customerById(ctx, order.customer_id),
    standing,
    hand_back: isHandedBack(ctx, orderId) ? handBackById(ctx, orderId) : null,
    hours: labourOfPlan(standing.plan).hours_together,
    findings: findingsOnJobs(ctx, jobIds),
    tellings: adviceTellingsOf(ctx, orderId),
    left_for_later: leftForLaterOn(ctx, order.vehicle_id).filter(left => left.settled_by_job_id === undefined),
    chain: chainHead(ctx.store.raw),
  }
}

function isHandedBack(ctx: Context, orderId: string): boolean {
  return handBackOf(ctx, orderId) !== undefined
}

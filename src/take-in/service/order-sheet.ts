import { namesOfPeople } from '../../accounts/index.ts'
import { comebacksOfStay, type StayComebacks } from '../../comebacks/index.ts'
import { type AdviceTelling, adviceTellingsOf, type Finding, findingsOnJobs } from '../../findings/index.ts'
import { type Standing, standingOfOrder, type WhatToCheck, whatToCheck } from '../../hand-back/index.ts'
import type { Context } from '../../platform/context.ts'
import { type Customer, customerById, type Vehicle, vehicleById } from '../../vehicles/index.ts'
import {
  type Authorisation,
  authorisationsOfOrder,
  type Estimate,
  estimatesOfOrder,
  jobById,
  labourOfPlan,
  type Talk,
  talksOfOrder,
  type WorkOrderRecord,
  workOrderById,
} from '../../work-orders/index.ts'
import type { Flag } from '../rules/flags.ts'
import { flagsOf } from './flags.ts'
import { type Stay, stayOf } from './in-house.ts'
import { type OthersWork, othersWorkOn } from './others-work.ts'

/** Everything that the page of a work order says. */
export interface OrderSheet {
  order: WorkOrderRecord
  stay: Stay
  vehicle: Vehicle
  customer: Customer
  standing: Standing
  hours: ReturnType<typeof labourOfPlan>
  /** Empty once the vehicle has left. */
  flags: Flag[]
  /** Of which earlier jobs it is a confirmed comeback. */
  comebacks: StayComebacks
  findings: { finding: Finding; cause: { task: string; order_id: string; letter: string } | null }[]
  /** Who was told of which findings, oldest first. */
  tellings: AdviceTelling[]
  /** What to check first and what to look at while it is open; nothing once it has left. */
  to_check: WhatToCheck
  /** Work on the vehicle that was not ours, the newest few. */
  others_work: OthersWork[]
  talks: Talk[]
  estimates: Estimate[]
  authorisations: Authorisation[]
  /** Names by id. */
  people: Map<string, string>
}

/** 404 for an unknown order. */
export function orderSheet(ctx: Context, orderId: string): OrderSheet {
  const order = workOrderById(ctx, orderId)
  const standing = standingOfOrder(ctx, orderId)
  const vehicle = vehicleById(ctx, order.vehicle_id)
  const isHere = standing.plan.hand_back === null
  const findings = findingsOnJobs(
    ctx,
    standing.plan.jobs.map(job => job.id),
  )
  return {
    order,
    stay: stayOf(ctx, order),
    vehicle,
    customer: customerById(ctx, order.customer_id),
    standing,
    hours: labourOfPlan(standing.plan),
    flags: isHere ? flagsOf(ctx, { vehicle_id: order.vehicle_id, order }) : [],
    comebacks: comebacksOfStay(ctx, orderId),
    findings: findings.map(finding => ({ finding, cause: causeOf(ctx, finding) })),
    tellings: adviceTellingsOf(ctx, orderId),
    to_check: whatToCheck(ctx, standing.plan),
    others_work: othersWorkOn(ctx, vehicle.id, null),
    talks: talksOfOrder(ctx, orderId),
    estimates: estimatesOfOrder(ctx, orderId),
    authorisations: authorisationsOfOrder(ctx, orderId),
    people: namesOfPeople(ctx),
  }
}

function causeOf(ctx: Context, { caused_by }: Finding) {
  if (caused_by === undefined || !('job_id' in caused_by)) return null
  const { task, work_order_id, letter } = jobById(ctx, caused_by.job_id)
  return { task, order_id: work_order_id, letter }
}

import { settingsOf } from '../../accounts/index.ts'
import { type CalendarDate, localDateOf } from '../../core/calendar.ts'
import type { WorkOrderState } from '../../core/vocabulary.ts'
import { loadJoints } from '../../fastening/index.ts'
import { standingOfOrder } from '../../hand-back/index.ts'
import type { Context } from '../../platform/context.ts'
import { type Customer, customerById, type Vehicle, vehicleById } from '../../vehicles/index.ts'
import {
  authorisationsOfOrder,
  type MovedPromise,
  movedPromisesOfOrder,
  type OrderPlan,
  ordersInHouse,
  type Talk,
  talksOfOrder,
  type WorkOrderRecord,
  waitsOfOrder,
} from '../../work-orders/index.ts'
import { byUrgency, isOverdue, waitsFor } from '../rules/waiting.ts'

/** A vehicle that is here, and what it waits for: the answer to "is mine ready?". Instants in milliseconds. */
export interface Stay {
  order: WorkOrderRecord
  vehicle: Vehicle
  customer: Customer
  state: WorkOrderState
  waits_for: string
  taken_in: number
  /** When anything was last written down of it. */
  since: number
  promised_on: CalendarDate | null
  late: boolean
  /** Late, or what it waits for is. */
  overdue: boolean
  /** The promised days before the one that stands, oldest first. */
  moved: MovedPromise[]
  last_talk: Talk | null
  /** The newest talk in which something was promised. */
  last_promise: Talk | null
}

/** Everything that is here, late first. */
export function staysInHouse(ctx: Context): Stay[] {
  return byUrgency(ordersInHouse(ctx).map(order => stayOf(ctx, order)))
}

export function stayOf(ctx: Context, order: WorkOrderRecord): Stay {
  const { state, plan, blockers, done_job_ids } = standingOfOrder(ctx, order.id)
  const talks = talksOfOrder(ctx, order.id)
  const jobs = plan.jobs
    .filter(job => job.voiding === null)
    .map(({ id, letter, task }) => ({ letter, task, done: done_job_ids.has(id) }))
  const promised_on = order.promised_on ?? null
  const today = localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
  const awaited = waitsOfOrder(ctx, order.id).filter(wait => wait.ended === undefined)
  const isHere = state !== 'handed_back'
  return {
    order,
    vehicle: vehicleById(ctx, order.vehicle_id),
    customer: customerById(ctx, order.customer_id),
    state,
    waits_for: waitsFor({ state, jobs, blockers, awaited, today }),
    taken_in: Date.parse(order.created_at),
    since: lastTouched(ctx, plan, talks),
    promised_on,
    late: promised_on !== null && promised_on < today && isHere,
    overdue: isHere && isOverdue(promised_on, awaited, today),
    moved: movedPromisesOfOrder(ctx, order.id),
    last_talk: talks.at(-1) ?? null,
    last_promise: talks.findLast(talk => talk.promised !== undefined) ?? null,
  }
}

function lastTouched(ctx: Context, plan: OrderPlan, talks: readonly Talk[]): number {
  const joints = loadJoints(
    ctx,
    plan.jobs.flatMap(job => job.joints.map(joint => joint.id)),
  )
  return Math.max(
    plan.order.created_at,
    ...[...plan.openings, ...plan.closings].map(step => step.at),
    ...plan.jobs.flatMap(job => [
      job.created_at,
      job.completion?.at ?? 0,
      job.voiding?.created_at ?? 0,
      ...[...job.part_lines, ...job.part_lines_off].map(line => line.removal?.created_at ?? line.created_at),
      ...job.tools_in.map(tool => tool.removed_at ?? tool.at),
    ]),
    ...joints.flatMap(joint => [...joint.records, ...joint.sign_offs].map(row => row.created_at)),
    ...authorisationsOfOrder(ctx, plan.order.id).map(yes => Date.parse(yes.at)),
    ...talks.map(talk => Date.parse(talk.created_at)),
  )
}

import { jointStates } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { vehicleById } from '../../../vehicles/index.ts'
import { ordersInHouse, type PlannedJob, planOfOrder } from '../../../work-orders/index.ts'
import { type CardItem, nextNeeded } from '../../rules/job-card.ts'
import { jobTrouble } from '../../rules/job-trouble.ts'
import { factsOf, type Standing, standingOfOrder } from '../standing.ts'
import { itemsOf } from './job-card.ts'

export interface JobInHouse {
  job: PlannedJob
  standing: Standing
  vehicle: ReturnType<typeof vehicleById>
  next: CardItem | undefined
  /** A joint to redo or unsure, left half way, on temporary fasteners: each in words. */
  trouble: string[]
  /** Joints that only a second person can sign now. */
  second_person_wanted: string[]
  done: boolean
}

/** Every job that stands on a vehicle in the house, those to be done first. */
export function jobsInHouse(ctx: Context): JobInHouse[] {
  return ordersInHouse(ctx)
    .flatMap(order => {
      const standing = standingOfOrder(ctx, order.id)
      const facts = factsOf(ctx, standing.plan)
      const vehicle = vehicleById(ctx, order.vehicle_id)
      return standing.plan.jobs
        .filter(job => job.voiding === null)
        .map(job => ({
          ...{ job, standing, vehicle },
          next: nextNeeded(itemsOf(ctx, standing.plan, job, facts)),
          ...jobTrouble(jointsOf(ctx, job)),
          done: standing.done_job_ids.has(job.id),
        }))
    })
    .sort((one, other) => Number(one.done) - Number(other.done))
}

function jointsOf(ctx: Context, job: PlannedJob) {
  const states = jointStates(
    ctx,
    job.joints.map(joint => joint.id),
  )
  return job.joints.map(joint => ({ name: joint.name, ...states.get(joint.id)! }))
}

export interface ToolOut {
  id: string
  tool: string
  count: number
  at: number
  before_step: string | null
  job: PlannedJob
  order_number: string
  vehicle: ReturnType<typeof vehicleById>
}

/** Every tool that is in a vehicle of the house now, longest first; also those of voided jobs. */
export function toolsInVehicles(ctx: Context): ToolOut[] {
  return ordersInHouse(ctx)
    .flatMap(order => {
      const plan = planOfOrder(ctx, order.id)
      return plan.jobs.flatMap(job =>
        job.tools_in
          .filter(tool => tool.removed_at === null)
          .map(tool => ({
            id: tool.id,
            tool: tool.tool,
            count: tool.count,
            at: tool.at,
            before_step: plan.steps.find(step => step.access_step_id === tool.before_step_id)?.name ?? null,
            job,
            order_number: plan.order.number,
            vehicle: vehicleById(ctx, plan.order.vehicle_id),
          })),
      )
    })
    .sort((one, other) => one.at - other.at)
}

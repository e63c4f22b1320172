import { type Doubt, jointStates } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { vehicleById } from '../../../vehicles/index.ts'
import { missingWords, ordersInHouse, outBefore, type PlannedJob, planOfOrder } from '../../../work-orders/index.ts'
import type { CardItem } from '../../rules/card-item.ts'
import { firstToDo, nextNeeded } from '../../rules/job-card.ts'
import { jobTrouble } from '../../rules/job-trouble.ts'
import { factsOf, type Standing, standingOfOrder } from '../standing.ts'
import { itemsOf } from './job-card.ts'
import { jointSentence } from './joint-sentence.ts'
import { stampOf } from './stamp.ts'

export interface JobInHouse {
  job: PlannedJob
  standing: Standing
  vehicle: ReturnType<typeof vehicleById>
  next: CardItem | undefined
  /** What is first to be done, where nothing can be done now. */
  waits: CardItem | undefined
  /** A joint to redo or unsure, left half way (by whom, when, why), on temporary fasteners: each in words. */
  trouble: string[]
  /** Joints that only a second person can sign now. */
  second_person_wanted: string[]
  done: boolean
}

/** Every job that stands on a vehicle in the house, those to be done first. `doubts`: the open ones, of whichever vehicles. */
export function jobsInHouse(ctx: Context, doubts: readonly Doubt[]): JobInHouse[] {
  const doubted = new Set(doubts.map(doubt => doubt.joint_id))
  return ordersInHouse(ctx)
    .flatMap(order => {
      const standing = standingOfOrder(ctx, order.id)
      const facts = factsOf(ctx, standing.plan)
      const vehicle = vehicleById(ctx, order.vehicle_id)
      return standing.plan.jobs
        .filter(job => job.voiding === null)
        .map(job => {
          const items = itemsOf(ctx, standing.plan, job, facts)
          return {
            ...{ job, standing, vehicle },
            ...{ next: nextNeeded(items), waits: firstToDo(items) },
            ...jobTrouble(jointsOf(ctx, job, doubted)),
            done: standing.done_job_ids.has(job.id),
          }
        })
    })
    .sort((one, other) => Number(one.done) - Number(other.done))
}

function jointsOf(ctx: Context, job: PlannedJob, doubted: ReadonlySet<string>) {
  const states = jointStates(
    ctx,
    job.joints.map(joint => joint.id),
  )
  const stamp = stampOf(ctx)
  return job.joints.map(joint => {
    const state = states.get(joint.id)!
    return { ...state, name: joint.name, in_doubt: doubted.has(joint.id), sentence: jointSentence(state, stamp) }
  })
}

export interface ToolOut {
  id: string
  tool: string
  count: number
  /** What of it is lost, and where it may be; null while nothing is. */
  missing: string | null
  at: number
  /** In words: '"Wheel off" is closed'. */
  out_before: string
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
            missing: missingWords(tool),
            at: tool.at,
            out_before: outBefore(tool, plan.steps),
            job,
            order_number: plan.order.number,
            vehicle: vehicleById(ctx, plan.order.vehicle_id),
          })),
      )
    })
    .sort((one, other) => one.at - other.at)
}

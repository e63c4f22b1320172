import { findDoubts } from '../../../fastening/index.ts'
import { findingsOnJobs, maySkipLook, priorWorksOf } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import { customerById, vehicleById } from '../../../vehicles/index.ts'
import { type OrderPlan, type PlannedJob, planOfJob, runningClockOf } from '../../../work-orders/index.ts'
import type { OrderFacts } from '../../rules/blockers.ts'
import type { CardItem } from '../../rules/card-item.ts'
import { jobCard } from '../../rules/job-card.ts'
import { factsOf } from '../standing.ts'
import { cardFacts } from './card-facts.ts'
import { stampOf } from './stamp.ts'

/** A job as the bench sees it: its card, what is in the vehicle, and what is known of it. */
export interface JobAtBench {
  plan: OrderPlan
  job: PlannedJob
  vehicle: ReturnType<typeof vehicleById>
  customer_name: string
  items: CardItem[]
  /** Joints of the order on temporary fasteners, by name. */
  temporary: string[]
  /** Whether whoever looks at the card may leave out a look that safety hangs on. */
  may_skip_safety: boolean
  /** Joints of the job about which a doubt is not settled: what is in doubt, in words, and where it is settled. */
  doubts: { joint: string; told: string; href: string }[]
  /** Of whoever looks at the card: on which job it runs, its number and name, and since when in words; null when it does not. */
  clock: { id: string; job_id: string; number: string; task: string; since: string } | null
  findings: ReturnType<typeof findingsOnJobs>
  prior_works: ReturnType<typeof priorWorksOf>
}

/** 404 for an unknown job. */
export function jobAtBench(ctx: Context, jobId: string): JobAtBench {
  const plan = planOfJob(ctx, jobId)
  const job = plan.jobs.find(each => each.id === jobId)!
  const facts = factsOf(ctx, plan)
  const running = runningClockOf(ctx)
  return {
    plan,
    job,
    vehicle: vehicleById(ctx, plan.order.vehicle_id),
    customer_name: customerById(ctx, plan.order.customer_id).name,
    items: itemsOf(ctx, plan, job, facts),
    may_skip_safety: maySkipLook('safety', ctx.actor?.role ?? 'command line'),
    temporary: facts.joints.filter(joint => joint.temporary).map(joint => joint.name),
    doubts: doubtsOn(ctx, job),
    clock: running === undefined ? null : { ...running, ...whereRuns(ctx, running) },
    findings: findingsOnJobs(ctx, [jobId]),
    prior_works: priorWorksOf(ctx, plan.order.vehicle_id),
  }
}

function doubtsOn(ctx: Context, job: PlannedJob): JobAtBench['doubts'] {
  const ids = job.joints.map(joint => joint.id)
  if (ids.length === 0) return []
  return findDoubts(ctx, ids)
    .filter(({ doubt }) => doubt.settled === null)
    .map(({ doubt }) => ({ joint: doubt.joint_name, told: doubt.because, href: `/in-doubt/joints/${doubt.id}` }))
}

function whereRuns(ctx: Context, { job_id, at }: { job_id: string; at: number }) {
  const { order, jobs } = planOfJob(ctx, job_id)
  const { letter, task } = jobs.find(job => job.id === job_id)!
  return { number: `${order.number} ${letter}`, task, since: stampOf(ctx)({ at, created_by: null }) }
}

/** The card of one job of an order whose plan and facts are at hand. */
export function itemsOf(ctx: Context, plan: OrderPlan, job: PlannedJob, facts: OrderFacts): CardItem[] {
  return jobCard(cardFacts(ctx, plan, job, facts))
}

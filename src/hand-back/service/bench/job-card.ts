import { namesOfPeople, settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import { jointStates } from '../../../fastening/index.ts'
import { finalCheckResults, findingsOnJobs, lookResults, priorWorksOf } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import { customerById, vehicleById } from '../../../vehicles/index.ts'
import { type OrderPlan, type PlannedJob, planOfJob } from '../../../work-orders/index.ts'
import { stepBlockers } from '../../rules/blockers.ts'
import { checkStands } from '../../rules/final-check.ts'
import { type CardItem, jobCard, nextItem } from '../../rules/job-card.ts'
import { factsOf, openingsOfJob } from '../standing.ts'

/** A job as the bench sees it: its card, what is in the vehicle, and what is known of it. */
export interface JobAtBench {
  plan: OrderPlan
  job: PlannedJob
  vehicle: ReturnType<typeof vehicleById>
  customer_name: string
  items: CardItem[]
  next: CardItem | undefined
  findings: ReturnType<typeof findingsOnJobs>
  prior_works: ReturnType<typeof priorWorksOf>
}

/** 404 for an unknown job. */
export function jobAtBench(ctx: Context, jobId: string): JobAtBench {
  const plan = planOfJob(ctx, jobId)
  const job = plan.jobs.find(each => each.id === jobId)!
  const items = itemsOf(ctx, plan, job)
  return {
    plan,
    job,
    vehicle: vehicleById(ctx, plan.order.vehicle_id),
    customer_name: customerById(ctx, plan.order.customer_id).name,
    items,
    next: nextItem(items),
    findings: findingsOnJobs(ctx, [jobId]),
    prior_works: priorWorksOf(ctx, plan.order.vehicle_id),
  }
}

/** The card of one job of an order whose plan is at hand. */
export function itemsOf(ctx: Context, plan: OrderPlan, job: PlannedJob): CardItem[] {
  const { time_zone } = settingsOf(ctx)
  const people = namesOfPeople(ctx)
  const stamp = (at: number, by: string | null) =>
    [localTimeOf(at, time_zone), by === null ? undefined : people.get(by)].filter(Boolean).join(', ')
  const facts = factsOf(ctx, plan)
  const ids = (rows: readonly { id: string }[]) => rows.map(row => row.id)
  const looks = lookResults(ctx, ids(job.looks))
  const joints = jointStates(ctx, ids(job.joints))
  const checks = finalCheckResults(ctx, ids(job.final_checks))
  const findings = new Map(findingsOnJobs(ctx, ids(plan.jobs)).map(finding => [finding.id, finding]))
  return jobCard({
    steps: plan.steps
      .filter(step => step.job_ids.includes(job.id))
      .map(step => {
        const own = job.steps.find(each => each.access_step_id === step.access_step_id)!
        const opening = plan.openings.findLast(row => row.access_step_id === step.access_step_id)
        const closing = plan.closings.findLast(row => row.access_step_id === step.access_step_id)
        return {
          ...step,
          id: own.id,
          opened_note: opening === undefined ? '' : stamp(opening.at, opening.created_by),
          closed_note: step.is_open || closing === undefined ? '' : stamp(closing.at, closing.created_by),
          closing_blockers: step.is_open ? stepBlockers(facts, step.access_step_id) : [],
        }
      }),
    looks: job.looks.map(look => {
      const result = looks.get(look.id)
      const finding = result?.finding_id == null ? undefined : findings.get(result.finding_id)
      const said =
        finding === undefined
          ? result?.skipped_reason == null
            ? 'fine'
            : `left out: ${result.skipped_reason}`
          : `found: ${finding.failure_mode ?? finding.note ?? 'not in order'}`
      return {
        ...look,
        result: result === undefined ? null : `${said}, ${stamp(result.created_at, result.created_by)}`,
      }
    }),
    joints: job.joints.map(joint => ({ ...joint, ...joints.get(joint.id)! })),
    tools: job.tools_in.map(tool => ({
      ...tool,
      removed: tool.removed_at !== null,
      note:
        tool.removed_at === null
          ? `in since ${stamp(tool.at, tool.created_by)}`
          : `out ${localTimeOf(tool.removed_at, time_zone)}`,
    })),
    final_checks: job.final_checks.map(check => {
      const result = checks.get(check.id)
      const said =
        result === undefined
          ? null
          : `${result.fine ? 'fine' : 'not fine'}, ${stamp(result.created_at, result.created_by)}`
      const stands = result !== undefined && checkStands(result, openingsOfJob(plan, job.id))
      const note = said === null || stands ? said : `${said}; opened again since: check it once more`
      return { ...check, result: note, fine: stands && result.fine }
    }),
  })
}

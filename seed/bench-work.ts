import { addAttachment, type KeptFile } from '../src/attachments/index.ts'
import { localDateOf } from '../src/core/calendar.ts'
import type { RandomSource } from '../src/core/random.ts'
import { inspectFasteners, jointStates, loadJoint, recordTorque, signOffJoint } from '../src/fastening/index.ts'
import { recordFinalCheck, recordLookResult } from '../src/findings/index.ts'
import { closeStep, turnEngine } from '../src/hand-back/index.ts'
import { gaugesForAngle, wrenchesForTarget } from '../src/tools/index.ts'
import {
  completeJob,
  type Job,
  jobsOfOrder,
  openStep,
  orderOfJob,
  putToolIn,
  recordMark,
  startClock,
  stopRunningClock,
  type ToolIn,
  takeToolOut,
} from '../src/work-orders/index.ts'
import { type Hand, TIME_ZONE } from './people.ts'

/** Work takes time: the next thing happens so many seconds later. */
function spend(ctx: Hand, seconds: number): void {
  ctx.clock.set(ctx.clock.now() + seconds * 1000)
}

/**
 * Makes the position marks of every job of the order, then opens each step of this one that is not open, from the outside in, and
 * makes the marks that can be seen then. `picture` is the photograph, where one is asked for.
 */
export function openAll(ctx: Hand, jobId: string, picture?: KeptFile): Job {
  const jobs = jobsOfOrder(ctx, orderOfJob(ctx, jobId))
  const unmade = jobs
    .filter(each => each.voided_at === undefined)
    .flatMap(each => each.marks)
    .filter(mark => mark.made_at === undefined)
  const inSight = unmade.filter(mark => mark.behind_step_id === undefined)
  makeMarks(ctx, inSight, picture)
  const job = jobs.find(each => each.id === jobId)!
  for (const step of job.steps) {
    if (step.is_open) continue
    openStep(ctx, jobId, step.id, {})
    spend(ctx, step.hours * 1500)
  }
  const open = new Set(job.steps.map(step => step.access_step_id))
  const inSightNow = unmade.filter(mark => open.has(mark.behind_step_id ?? ''))
  makeMarks(ctx, inSightNow, picture)
  return job
}

function makeMarks(ctx: Hand, marks: Job['marks'], picture: KeptFile | undefined): void {
  for (const { id, photo } of marks) {
    if (photo === true && picture !== undefined) {
      addAttachment(ctx, { subject: { mark_id: id }, moment: 'before' }, picture)
    } else recordMark(ctx, id, {})
    spend(ctx, 60)
  }
}

/** Puts in what the plan says goes in. */
export function putPlannedToolsIn(ctx: Hand, job: Job): ToolIn[] {
  return job.tools.map(({ id, ...tool }) => {
    spend(ctx, 30)
    return putToolIn(ctx, job.id, { ...tool, job_tool_id: id })
  })
}

/** Tightens a joint on which nothing is recorded yet, stage by stage in its order, as far as `until` records. */
export function tighten(
  ctx: Hand,
  jointId: string,
  chance: RandomSource,
  options: { until?: number; wrench?: string } = {},
): void {
  const { row, procedure } = loadJoint(ctx, jointId)
  const gauge = gaugesForAngle(ctx, localDateOf(ctx.clock.now(), TIME_ZONE)).best_first[0]!
  let made = 0
  for (const [nth, { kind, target, lower, upper }] of row.revision.stages.entries()) {
    const half = Math.min(target - (lower ?? target * 0.95), (upper ?? target * 1.05) - target)
    const wrench = kind === 'angle' ? null : wrenchFor(ctx, target, half, options.wrench)
    for (const position of procedure.order) {
      if (made === options.until) return
      const place = { position, stage: nth + 1, fastener: 1 }
      const value = round(target + (chance.uniform() - 0.5) * half * 0.4)
      if (wrench === null)
        recordTorque(ctx, jointId, { ...place, value, unit: 'deg', basis: 'measured', gauge_id: gauge.id })
      else {
        const shown =
          wrench.kind === 'clicks'
            ? ({ value: target, basis: 'set' } as const)
            : ({ value, basis: 'measured' } as const)
        recordTorque(ctx, jointId, { ...place, ...shown, unit: 'N.m', wrench_id: wrench.id })
      }
      made += 1
      spend(ctx, 35)
    }
  }
}

/** The wrench that is asked for by name, else the surest. */
function wrenchFor(ctx: Hand, target: number, half: number, name: string | undefined) {
  const on = localDateOf(ctx.clock.now(), TIME_ZONE)
  const usable = wrenchesForTarget(ctx, { target, lower: target - half, upper: target + half, on }).best_first
  return (usable.find(choice => choice.wrench.name === name) ?? usable[0]!).wrench
}

/** Signs a joint, with a second person where one is needed; fasteners that go in again were looked at before. */
function signBoth(technician: Hand, second: Hand, jointId: string): void {
  if (loadJoint(technician, jointId).row.revision.reuse === 'after_inspection')
    inspectFasteners(technician, jointId, { fit: true })
  signOffJoint(technician, jointId, { as: 'technician' })
  if (jointStates(technician, [jointId]).get(jointId)!.needs_second_person)
    signOffJoint(second, jointId, { as: 'second_person', looked_at: ['marks', 'count', 'stripe'] })
}

/**
 * Everything of a job from the first step opened to the last check, nothing left open; `isLast: false` leaves the closing, and
 * the checks that come after it, to another job. `found` settles a look by a finding.
 */
export function doWholeJob(
  technician: Hand,
  second: Hand,
  jobId: string,
  chance: RandomSource,
  options: {
    found?: (component: string) => string | null
    wrench?: string
    picture?: KeptFile
    isLast?: boolean
  } = {},
): void {
  startClock(technician, jobId, {})
  const job = openAll(technician, jobId, options.picture)
  const tools = putPlannedToolsIn(technician, job)
  for (const look of job.looks) {
    const findingId = options.found?.(look.component) ?? null
    recordLookResult(technician, look.id, findingId === null ? { fine: true } : { finding_id: findingId })
  }
  for (const joint of job.joints)
    tighten(technician, joint.id, chance, options.wrench === undefined ? {} : { wrench: options.wrench })
  if (job.joints.length === 0) completeJob(technician, jobId, {})
  // what was held while it was tightened is signed with nothing left in it
  for (const { id, count } of tools) takeToolOut(technician, id, { count })
  for (const joint of job.joints) signBoth(technician, second, joint.id)
  if (options.isLast ?? true) closeUp(technician, job)
  stopRunningClock(technician, jobId)
}

/** Steps closed from the inside out, the engine turned, the last checks. */
function closeUp(technician: Hand, job: Job): void {
  for (const step of job.steps.toReversed()) closeStep(technician, job.id, step.id, {})
  if (job.turns_engine) for (const how of ['by_hand', 'started'] as const) turnEngine(technician, job.id, { how })
  for (const check of job.final_checks) recordFinalCheck(technician, check.id, { fine: true })
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}

import { localDateOf } from '../src/core/calendar.ts'
import type { RandomSource } from '../src/core/random.ts'
import { jointStates, loadJoint, recordTorque, signOffJoint } from '../src/fastening/index.ts'
import { recordFinalCheck, recordLookResult } from '../src/findings/index.ts'
import { closeStep } from '../src/hand-back/index.ts'
import { wrenchesForTarget } from '../src/tools/index.ts'
import { completeJob, jobById, openStep } from '../src/work-orders/index.ts'
import { type Hand, TIME_ZONE } from './people.ts'

/** Work takes time: the next thing happens so many seconds later. */
function spend(ctx: Hand, seconds: number): void {
  ctx.clock.set(ctx.clock.now() + seconds * 1000)
}

/** Opens every strip-down step of a job that is not open yet, from the outside in. */
export function openAll(ctx: Hand, jobId: string): void {
  for (const step of jobById(ctx, jobId).steps) {
    if (step.is_open) continue
    openStep(ctx, jobId, step.id, {})
    spend(ctx, step.hours * 1500)
  }
}

/** Tightens a joint stage by stage in its order, as far as `until` records, and returns how many were made. */
export function tighten(
  ctx: Hand,
  jointId: string,
  chance: RandomSource,
  options: { until?: number; wrench?: string } = {},
): number {
  let made = 0
  for (;;) {
    const { state, row } = loadJoint(ctx, jointId)
    if (state.next === null || made === (options.until ?? Number.POSITIVE_INFINITY)) return made
    const { position, stage, fastener } = state.next
    const { kind, target, lower, upper } = row.revision.stages[stage - 1]!
    const half = Math.min(target - (lower ?? target * 0.95), (upper ?? target * 1.05) - target)
    const wobble = (chance.uniform() - 0.5) * half * 0.4
    if (kind === 'angle') {
      recordTorque(ctx, jointId, {
        position,
        stage,
        fastener,
        value: round(target + wobble),
        unit: 'deg',
        basis: 'measured',
      })
    } else {
      const on = localDateOf(ctx.clock.now(), TIME_ZONE)
      const usable = wrenchesForTarget(ctx, { target, lower: target - half, upper: target + half, on }).best_first
      const { wrench } = usable.find(choice => choice.wrench.name === options.wrench) ?? usable[0]!
      const isSet = wrench.kind === 'clicks'
      recordTorque(ctx, jointId, {
        ...{ position, stage, fastener, unit: 'N.m', wrench_id: wrench.id },
        ...(isSet ? { value: target, basis: 'set' } : { value: round(target + wobble), basis: 'measured' }),
      })
    }
    made += 1
    spend(ctx, 35)
  }
}

/** Signs a joint, with a second person where one is needed. */
export function signBoth(technician: Hand, second: Hand, jointId: string): void {
  signOffJoint(technician, jointId, { as: 'technician' })
  if (jointStates(technician, [jointId]).get(jointId)!.needs_second_person)
    signOffJoint(second, jointId, { as: 'second_person' })
}

/** Everything of a job from the first step opened to the last check, nothing left open. `found` settles a look by a finding. */
export function doWholeJob(
  technician: Hand,
  second: Hand,
  jobId: string,
  chance: RandomSource,
  options: { found?: (component: string) => string | null; wrench?: string; isLast?: boolean } = {},
): void {
  openAll(technician, jobId)
  const job = jobById(technician, jobId)
  for (const look of job.looks) {
    const findingId = options.found?.(look.component) ?? null
    recordLookResult(technician, look.id, findingId === null ? { fine: true } : { finding_id: findingId })
  }
  for (const joint of job.joints) {
    tighten(technician, joint.id, chance, options.wrench === undefined ? {} : { wrench: options.wrench })
    signBoth(technician, second, joint.id)
  }
  if (options.isLast ?? true) closeAll(technician, jobId)
  for (const check of job.final_checks) recordFinalCheck(technician, check.id, { fine: true })
  if (job.joints.length + job.looks.length + job.final_checks.length + job.steps.length === 0)
    completeJob(technician, jobId, {})
}

/** Closes what is open of a job's strip-down, from the inside out. */
export function closeAll(ctx: Hand, jobId: string): void {
  for (const step of jobById(ctx, jobId).steps.toReversed()) if (step.is_open) closeStep(ctx, jobId, step.id, {})
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}

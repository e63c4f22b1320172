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

/** Tightens a joint on which nothing is recorded yet, stage by stage in its order, as far as `until` records. */
export function tighten(
  ctx: Hand,
  jointId: string,
  chance: RandomSource,
  options: { until?: number; wrench?: string } = {},
): void {
  const { row, procedure } = loadJoint(ctx, jointId)
  let made = 0
  for (const [nth, { kind, target, lower, upper }] of row.revision.stages.entries()) {
    const half = Math.min(target - (lower ?? target * 0.95), (upper ?? target * 1.05) - target)
    const wrench = kind === 'angle' ? null : wrenchFor(ctx, target, half, options.wrench)
    for (const position of procedure.order) {
      if (made === options.until) return
      const place = { position, stage: nth + 1, fastener: 1 }
      const value = round(target + (chance.uniform() - 0.5) * half * 0.4)
      if (wrench === null) recordTorque(ctx, jointId, { ...place, value, unit: 'deg', basis: 'measured' })
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

/** Signs a joint, with a second person where one is needed. */
function signBoth(technician: Hand, second: Hand, jointId: string): void {
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
function closeAll(ctx: Hand, jobId: string): void {
  for (const step of jobById(ctx, jobId).steps.toReversed()) if (step.is_open) closeStep(ctx, jobId, step.id, {})
}

function round(value: number): number {
  return Math.round(value * 10) / 10
}

import fc from 'fast-check'
import {
  findDoubts,
  inspectFasteners,
  type LoadedJoint,
  leaveJoint,
  loadJoint,
  loadJoints,
  recordStageAsSet,
  recordTorque,
  resumeJoint,
  settleDoubt,
  signOffJoint,
  useTemporarily,
} from '../../src/fastening/index.ts'
import { lookResults, recordFinalCheck, recordLookResult } from '../../src/findings/index.ts'
import { closeStep, handBack, turnEngine, voidJobSafely } from '../../src/hand-back/index.ts'
import type { Context } from '../../src/platform/context.ts'
import {
  addPartLine,
  jobById,
  openStep,
  planOfOrder,
  putToolIn,
  recordMark,
  removePartLine,
  startClock,
  takeToolOut,
} from '../../src/work-orders/index.ts'
import type { WalkWorld } from './walk-world.ts'

const CHAOS = [
  ...['record', 'record', 'bad', 'event', 'correct', 'set', 'set', 'leave', 'resume', 'sign', 'second'],
  ...['open', 'close', 'close', 'tool_in', 'tool_out', 'look', 'skip', 'check', 'turn', 'hand_back', 'void'],
  ...['issue', 'take_off', 'inspect', 'temporary', 'mark', 'clock', 'later', 'fault', 'outside', 'settle', 'settle'],
] as const

/** One tap: by whom, what, and numbers that choose among whatever is there to tap on. `sense` below `chaos` is nonsense. */
export interface Tap {
  who: keyof WalkWorld['people']
  what: (typeof CHAOS)[number]
  pick: number
  other: number
  sense: number
}

export const taps = (count: number) =>
  fc.array(
    fc.record<Tap>({
      who: fc.constantFrom('desk', 'first', 'first', 'second', 'second', 'owner'),
      what: fc.constantFrom(...CHAOS),
      pick: fc.nat(999),
      other: fc.nat(999),
      sense: fc.nat(99),
    }),
    { minLength: count, maxLength: count },
  )

/** What was done, for whoever checks it: the action, and what it was done to. */
export interface Done {
  action: string
  joint?: string
  step?: string
}

export interface Stay {
  order: string
  jobs: { id: string; joints: { id: string }[] }[]
}

/** Does one tap through the services, or throws their refusal. */
export function play(w: WalkWorld, stay: Stay, tap: Tap, chaos: number): Done {
  return tap.sense < chaos ? anything(w, stay, tap) : sensible(w, stay, tap)
}

const pickOf = <T>(items: readonly T[], pick: number): T => items[pick % items.length]!

/** What a good mechanic does next; still by whoever happens to tap. */
function sensible(w: WalkWorld, stay: Stay, tap: Tap): Done {
  const ctx = w.people[tap.who]
  const plan = planOfOrder(w.owner, stay.order)
  const [job] = plan.jobs
  const unmade = job!.marks.filter(mark => mark.made === null)
  if (unmade.length > 0) return done('mark', () => recordMark(ctx, pickOf(unmade, tap.pick).id, {}))
  const standing = plan.jobs.filter(each => each.voiding === null)
  const joints = loadJoints(
    ctx,
    standing.flatMap(each => each.joints.map(joint => joint.id)),
  )
  const unsigned = joints.filter(joint => !joint.signed)
  const untried = plan.steps.filter(step => step.times_opened === 0)
  if (untried.length > 0) return done('open', () => openStep(ctx, job!.id, untried[0]!.access_step_id, {}))
  if (unsigned.length > 0) return workOn(w, ctx, pickOf(unsigned, tap.pick), tap)
  const looks = job!.looks.map(look => look.id)
  const seen = lookResults(ctx, looks)
  const unseen = looks.filter(id => !seen.has(id))
  // now and then somebody forgets a look, or a tool
  if (unseen.length > 0 && tap.other % 4 !== 0)
    return done('look', () => recordLookResult(ctx, pickOf(unseen, tap.pick), { fine: true }))
  const shaft = plan.steps.find(step => step.access_step_id === w.shaft)!
  if (shaft.is_open && shaft.times_opened === 1 && job!.tools_in.length === 0)
    return done('tool_in', () => putToolIn(ctx, job!.id, { tool: 'Pin', before_step_id: w.shaft, count: 2 }))
  const tools = plan.jobs.flatMap(each => each.tools_in).filter(tool => tool.removed_at === null)
  if (tools.length > 0 && tap.pick % 3 !== 0)
    return done('tool_out', () => takeToolOut(ctx, tools[0]!.id, { count: tools[0]!.count }))
  const open = plan.steps.filter(step => step.is_open)
  if (open.length > 0) {
    const step = open.at(-1)!.access_step_id
    return { ...done('close', () => closeStep(ctx, job!.id, step, {})), step }
  }
  if (tap.other % 5 === 0) return done('tool_in', () => putToolIn(ctx, job!.id, { tool: 'Drain tray' }))
  return pickOf(
    [
      () => done('turn', () => turnEngine(ctx, job!.id, { how: 'by_hand' })),
      () => done('check', () => recordFinalCheck(ctx, job!.final_checks[0]!.id, { fine: true })),
      () => done('hand_back', () => handBack(ctx, stay.order, {})),
    ],
    tap.other,
  )()
}

function done(action: string, work: () => unknown): Done {
  work()
  return { action }
}

function workOn(w: WalkWorld, ctx: Context, { row, left, state, fitted }: LoadedJoint, tap: Tap): Done {
  const joint = row.joint.id
  if (left !== null) return done('resume', () => resumeJoint(ctx, left.id, { how: 'carry_on' }))
  if (w.isOut()) return done('check_again', () => w.checkWrench('good'))
  if (state.next !== null) {
    const { position, stage, fastener } = state.next
    return done('record', () => recordTorque(ctx, joint, reading(w, row.revision.stages, position, stage, fastener, 0)))
  }
  if (fitted.temporary && fitted.new_fasteners!.issued >= fitted.new_fasteners!.needed) {
    const old = state.fasteners.toSorted((one, other) => one.fastener - other.fastener)[0]!
    const replaced = { position: old.position, stage: 1, fastener: old.fastener, event: 'replaced' } as const
    return done('event', () => recordTorque(ctx, joint, replaced))
  }
  if (fitted.faults.length > 0)
    return fitted.faults[0]!.reason === 'fasteners_not_inspected'
      ? done('inspect', () => inspectFasteners(ctx, joint, { fit: true }))
      : done('issue', () => issue(w, ctx, row.job.id, joint, 1))
  const doubt = findDoubts(ctx, [joint]).find(each => each.doubt.settled === null)?.doubt
  if (doubt !== undefined) return done('settle', () => settle(w, ctx, doubt.id))
  const as = tap.other % 2 === 0 ? 'technician' : 'second_person'
  return { ...done(as, () => signOffJoint(ctx, joint, { as })), joint }
}

function reading(
  w: WalkWorld,
  stages: readonly { kind: string; target: number }[],
  position: number,
  stage: number,
  fastener: number,
  off: number,
) {
  const { kind, target } = stages[(stage - 1) % stages.length]!
  const torque = { value: target + off, unit: 'N.m', basis: 'measured', wrench_id: w.wrench } as const
  const angle = { value: target + 2 * off, unit: 'deg', basis: 'measured' } as const
  return { position, stage, fastener, ...(kind === 'torque' ? torque : angle) }
}

function settle(w: WalkWorld, ctx: Context, doubt: string): void {
  settleDoubt(ctx, doubt, { how: 'Torque checked', checked_with: w.clicker })
}

function issue(w: WalkWorld, ctx: Context, job: string, joint: string, quantity: number, batch = w.batch()): void {
  addPartLine(ctx, job, {
    ...{ part_id: w.part, quantity, batch, condition: 'new', cost_minor: 10, price_minor: 20 },
    joint_id: joint,
  })
}

/** Anything at all, also what makes no sense. */
function anything(w: WalkWorld, stay: Stay, { who, what, pick, other }: Tap): Done {
  const ctx = w.people[who]
  const job = jobById(ctx, pickOf(stay.jobs, other).id)
  const jointId = pickOf(
    stay.jobs.flatMap(each => each.joints),
    pick,
  ).id
  const { row, records, leavings } = loadJoint(ctx, jointId)
  const step = pickOf([w.wheel, w.carrier, w.shaft, w.hub], pick)
  const [position, stage, fastener] = [1 + (other % 3), 1 + (pick % 3), 1 + (other % 5 === 0 ? 1 : 0)]
  const torque = (off: number) => reading(w, row.revision.stages, position, stage, fastener, off)
  const plan = () => planOfOrder(w.owner, stay.order)
  const whole = stay.jobs[0]!.id
  const as = what === 'sign' ? 'technician' : 'second_person'
  const acts: Record<Tap['what'], () => unknown> = {
    record: () => recordTorque(ctx, jointId, torque(0)),
    bad: () => recordTorque(ctx, jointId, torque(pickOf([4.8, 20, -20], other))),
    event: () =>
      recordTorque(ctx, jointId, {
        ...{ position, stage, fastener },
        event: pickOf(['slipped', 'broke', 'angle_not_known', 'replaced'] as const, pick + other),
      }),
    correct: () => {
      const old = pickOf(records, other)
      if (old === undefined) return recordTorque(ctx, jointId, torque(0))
      const again = reading(w, row.revision.stages, old.position, old.stage, old.fastener, pick % 2 === 0 ? 0 : 20)
      return recordTorque(ctx, jointId, { ...again, supersedes: old.id, reason: 'Misread' })
    },
    set: () =>
      recordStageAsSet(ctx, jointId, {
        ...{ stage, wrench_id: w.clicker },
        ...(other % 3 === 0 && { exceptions: [{ position, event: 'slipped' }] }),
      }),
    leave: () => leaveJoint(ctx, jointId, { reason: 'Called away' }),
    resume: () =>
      resumeJoint(ctx, leavings.at(-1)?.id ?? 'nobody', { how: other % 2 === 0 ? 'carry_on' : 'start_over' }),
    sign: () => signOffJoint(ctx, jointId, { as }),
    second: () => signOffJoint(ctx, jointId, { as }),
    open: () => openStep(ctx, whole, step, {}),
    close: () => closeStep(ctx, whole, step, {}),
    tool_in: () => putToolIn(ctx, job.id, { tool: 'Pin', ...(other % 2 === 0 && { before_step_id: step }) }),
    tool_out: () =>
      takeToolOut(
        ctx,
        pickOf(
          plan().jobs.flatMap(each => each.tools_in),
          other,
        )?.id ?? 'nobody',
        {},
      ),
    look: () =>
      recordLookResult(
        ctx,
        pickOf(
          plan().jobs.flatMap(each => each.looks),
          other,
        ).id,
        { fine: true },
      ),
    skip: () =>
      recordLookResult(
        ctx,
        pickOf(
          plan().jobs.flatMap(each => each.looks),
          other,
        ).id,
        { skipped_reason: 'No time' },
      ),
    check: () => recordFinalCheck(ctx, plan().jobs[0]!.final_checks[0]!.id, { fine: other % 2 === 0 }),
    turn: () => turnEngine(ctx, whole, { how: other % 2 === 0 ? 'by_hand' : 'started' }),
    hand_back: () => handBack(ctx, stay.order, {}),
    void: () => voidJobSafely(ctx, stay.jobs.at(-1)!.id, { reason: 'Not wanted' }),
    issue: () => issue(w, ctx, row.job.id, jointId, 1 + (other % 2), other % 3 === 0 ? w.badBatch() : w.batch()),
    // parts come off again seldom, or no joint would ever be signed
    take_off: () => {
      const lines = plan().jobs.flatMap(each => each.part_lines)
      const line = other % 4 === 0 ? pickOf(lines, pick) : undefined
      return removePartLine(ctx, line?.job_id ?? 'nobody', line?.id ?? 'nothing', 'Not used')
    },
    inspect: () => inspectFasteners(ctx, jointId, { fit: other % 3 !== 0 }),
    temporary: () => useTemporarily(ctx, jointId, { reason: 'To the other lift' }),
    mark: () => recordMark(ctx, pickOf(plan().jobs[0]!.marks, other).id, {}),
    clock: () => startClock(ctx, job.id, {}),
    // a letter of the maker comes seldom
    fault: () => (other % 12 === 0 ? w.reportBatch(ctx) : recordMark(ctx, 'nobody', {})),
    outside: () => (other % 12 === 0 ? w.checkWrench('outside') : recordMark(ctx, 'nobody', {})),
    settle: () =>
      settle(w, ctx, findDoubts(ctx, [jointId]).find(each => each.doubt.settled === null)?.doubt.id ?? 'none.none'),
    later: () => w.t.clock.set(w.t.clock.now() + (pick % 40) * 60_000),
  }
  acts[what]()
  if (what === 'sign' || what === 'second') return { action: as, joint: jointId }
  return what === 'close' ? { action: what, step } : { action: what }
}

import {
  type FastenerProgress,
  type FastenerRecord,
  type Fault,
  type JointProcedure,
  newProgress,
  readRecord,
  type StartOver,
  startOver,
  undo,
} from './fastener-progress.ts'
import { isRedoneAlone } from './own-fault.ts'
import { standingRecords } from './standing-records.ts'

/**
 * One position. `stages` tells for each stage by which record it counts as done, null when it does not. `redo` and `unsure`
 * say that a fault is open; `needs` what comes next: nothing more, the next stage, loosen and all stages again, or a new
 * fastener. `caution`: a fastener that is not simply free to be used again has been loosened and tightened again.
 */
export interface FastenerState {
  position: number
  fastener: number
  stages: { stage: number; record_id: string | null }[]
  complete: boolean
  redo: boolean
  unsure: boolean
  needs: 'nothing' | 'tighten' | 'restart' | 'replace'
  next_stage: number | null
  fault: Fault | null
  caution: 'single_use_tightened_again' | 'inspect_before_use_again' | null
}

/** What to do next, and where: `fastener` is the number the next record bears. */
export interface NextStep {
  action: 'tighten' | 'restart' | 'replace'
  position: number
  fastener: number
  stage: number
}

/** Why the joint is not complete; `record_id` is the record that a fault rests on. */
export interface Incomplete {
  reason: 'stage_missing' | 'redo' | 'unsure' | 'replace'
  position: number
  fastener: number
  stage: number
  record_id: string | null
}

export interface JointState {
  fasteners: FastenerState[]
  next: NextStep | null
  complete: boolean
  incomplete: Incomplete[]
}

const CAUTIONS = {
  never: 'single_use_tightened_again',
  after_inspection: 'inspect_before_use_again',
  free: null,
} as const

function describe(progress: FastenerProgress, position: number, procedure: JointProcedure): FastenerState {
  const complete = progress.pass.length === procedure.stages.length
  const isUnsure = progress.fault?.kind === 'unsure' || progress.fault?.kind === 'not_proven'
  return {
    position,
    fastener: progress.fastener,
    stages: procedure.stages.map((_, at) => ({ stage: at + 1, record_id: progress.pass[at] ?? null })),
    complete,
    redo: progress.fault !== null && !isUnsure,
    unsure: isUnsure,
    needs: complete ? 'nothing' : progress.needs,
    next_stage: complete ? null : progress.pass.length + 1,
    fault: progress.fault,
    caution: progress.tightened_again ? CAUTIONS[procedure.reuse] : null,
  }
}

/**
 * Stage by stage over the whole joint, in the tightening order. A fastener with a fault of its own waits until the others
 * have had the stage it failed at, and is then brought up to them by itself.
 */
function nextStep(fasteners: readonly FastenerState[], order: readonly number[]): NextStep | null {
  const open = fasteners.filter(state => !state.complete)
  const rank = (state: FastenerState) => {
    const isAlone = isRedoneAlone(state)
    const stage = Math.max(state.next_stage ?? 0, isAlone ? state.fault!.stage : 0)
    return [stage, isAlone ? 1 : 0, order.indexOf(state.position)] as const
  }
  const [first] = open
    .map(state => ({ state, rank: rank(state) }))
    .sort(({ rank: a }, { rank: b }) => a[0] - b[0] || a[1] - b[1] || a[2] - b[2])
  if (first === undefined || first.state.needs === 'nothing') return null
  const { position, fastener, needs, next_stage } = first.state
  return { action: needs, position, fastener: needs === 'replace' ? fastener + 1 : fastener, stage: next_stage! }
}

function whyNot({ position, fastener, fault, needs, next_stage, unsure }: FastenerState): Incomplete {
  const because = fault === null ? 'stage_missing' : unsure ? 'unsure' : 'redo'
  return {
    reason: needs === 'replace' ? 'replace' : because,
    position,
    fastener,
    stage: fault?.stage ?? next_stage!,
    record_id: fault?.record_id ?? null,
  }
}

/**
 * The state of a joint and of each of its fasteners, from the records alone, given in order of recording, with each time
 * that somebody started over in its place among them: what stands before it counts no more. Corrections
 * stand in the place of what they supersede, also where they name another position; one that is withdrawn leaves nothing there. A stage counts only when all earlier stages of the same pass count: an angle
 * before its torque never does. A reading that is outside or unsure, a setting that cannot prove the tolerance, and an
 * event stay in the record and are open faults until they are dealt with by the procedure's rule: `restart` (loosen, and
 * all stages again on the same fastener), `replace` (all stages on a new one), `redo_joint` (all stages on every fastener).
 * Without a rule an angle stage and a single-use fastener are replaced, and anything unsure is done again. A broken fastener
 * is replaced whatever the rule. (Common workshop practice; the maker's procedure governs.)
 *
 * @throws RangeError when the procedure has no stages, its order does not name every position once, or a record lies
 * outside it or carries neither verdict nor event.
 */
export function stages(procedure: JointProcedure, records: readonly (FastenerRecord | StartOver)[]): JointState {
  const count = procedure.order.length
  if (procedure.stages.length === 0) throw new RangeError('stages requires at least one stage')
  const isPermutation = new Set(procedure.order).size === count && procedure.order.every(p => p >= 1 && p <= count)
  if (count === 0 || !isPermutation) throw new RangeError('stages requires an order that names every position once')

  const progress = Array.from({ length: count }, newProgress)
  for (const record of standingRecords(records)) {
    if ('started_over' in record) {
      for (const one of progress) startOver(one, procedure)
      continue
    }
    if (record.withdrawn) continue
    const own = progress[record.position - 1]
    if (own === undefined) throw new RangeError(`stages requires a position from 1 to ${count}`)
    if (procedure.stages[record.stage - 1] === undefined)
      throw new RangeError(`stages requires a stage from 1 to ${procedure.stages.length}`)
    if (record.verdict === null && record.event === null)
      throw new RangeError('stages requires a verdict or an event in every record')
    const fault = readRecord(own, record, procedure)
    if (fault?.rule !== 'redo_joint') continue
    for (const other of progress)
      if (other !== own && other.pass.length > 0) undo(other, { ...fault, kind: 'joint_redone' }, 'restart')
  }

  const fasteners = progress.map((one, at) => describe(one, at + 1, procedure))
  return {
    fasteners,
    next: nextStep(fasteners, procedure.order),
    complete: fasteners.every(state => state.complete),
    incomplete: fasteners.filter(state => !state.complete).map(whyNot),
  }
}

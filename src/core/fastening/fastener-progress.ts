import type { FastenerEvent, OnFailure, Reuse, StageKind, Verdict } from '../vocabulary.ts'
import { provesTolerance } from './proves-tolerance.ts'

/** What a tightening procedure asks of a joint. `order` are the positions, from 1, as they are tightened. */
export interface JointProcedure {
  stages: readonly { kind: StageKind }[]
  order: readonly number[]
  reuse: Reuse
  on_failure: OnFailure | null
}

/** A torque record: one fastener at one stage, or an event. Limits and uncertainty are those that its verdict was given by. */
export interface FastenerRecord {
  id: string
  position: number
  stage: number
  fastener: number
  verdict: Verdict | null
  event: FastenerEvent | null
  lower: number | null
  upper: number | null
  uncertainty: number | null
  supersedes_id: string | null
  /** Says that what it supersedes was not done; it counts for nothing itself. */
  withdrawn?: boolean | null
}

/** Whoever took up a joint that was left half way started over: nothing recorded before it counts any more. */
export interface StartOver {
  id: string
  started_over: true
  supersedes_id: null
}

/**
 * Why a fastener is not in order: a reading beyond its limits or too close to tell, a setting that no wrench so uncertain
 * can prove, an event, a stage out of its turn, or a fault elsewhere for which the whole joint is done again.
 */
export type FaultKind =
  | 'outside'
  | 'unsure'
  | 'not_proven'
  | 'slipped'
  | 'broke'
  | 'angle_not_known'
  | 'out_of_turn'
  | 'joint_redone'

/** A fault stays open until a later pass of all stages is complete, by the rule that the procedure has for it. */
export interface Fault {
  kind: FaultKind
  stage: number
  record_id: string
  rule: OnFailure
}

/** One position while its records are read in order. `pass` are the records of the stages that count, from the first on. */
export interface FastenerProgress {
  fastener: number
  pass: string[]
  needs: 'tighten' | 'restart' | 'replace'
  fault: Fault | null
  tightened_again: boolean
  fitted_by_event: boolean
}

/** A position at which nothing has been recorded yet. */
export function newProgress(): FastenerProgress {
  const nothing = { fault: null, tightened_again: false, fitted_by_event: false }
  return { fastener: 1, pass: [], needs: 'tighten', ...nothing }
}

/** The procedure's rule; where it has none, and for what no rule may allow, the safe one. */
function ruleFor(kind: FaultKind, stage: StageKind, procedure: JointProcedure): OnFailure {
  const isUnsure = kind === 'unsure' || kind === 'not_proven'
  const isByAngle = stage === 'angle' || kind === 'angle_not_known'
  if (kind === 'out_of_turn') return 'restart'
  if (kind === 'broke' && procedure.on_failure !== 'redo_joint') return 'replace'
  if (procedure.on_failure !== null) return procedure.on_failure
  return procedure.reuse === 'never' || (isByAngle && !isUnsure) ? 'replace' : 'restart'
}

function faultOf(record: FastenerRecord): FaultKind | null {
  if (record.event !== null) return record.event === 'replaced' ? null : record.event
  if (record.verdict === 'conforms') return null
  if (record.verdict !== 'as_set') return record.verdict === 'unsure' ? 'unsure' : 'outside'
  const { lower, upper, uncertainty } = record
  return lower !== null && upper !== null && provesTolerance(lower, upper, uncertainty) ? null : 'not_proven'
}

/** A new fastener has everything before it; what went wrong with the old one stays open until the new one is done. */
function renew(progress: FastenerProgress, fastener: number, isByEvent: boolean): void {
  Object.assign(progress, { fastener, pass: [], needs: 'tighten', tightened_again: false, fitted_by_event: isByEvent })
}

/** Loosens a fastener on paper: nothing of its pass counts any more. One that must be replaced stays so. */
export function undo(progress: FastenerProgress, fault: Fault, needs: 'restart' | 'replace'): void {
  progress.pass = []
  progress.fault = fault
  progress.needs = progress.needs === 'replace' ? 'replace' : needs
}

/**
 * Takes what was tightened as loosened, since nobody who starts over knows how tight it is: all stages again, in the order of
 * the joint; a single-use fastener that has been turned is replaced.
 */
export function startOver(progress: FastenerProgress, procedure: JointProcedure): void {
  const last = progress.pass.at(-1)
  if (last === undefined) return
  const fault: Fault = { kind: 'joint_redone', stage: progress.pass.length, record_id: last, rule: 'redo_joint' }
  undo(progress, fault, procedure.reuse === 'never' ? 'replace' : 'restart')
}

/** A reading that is good in itself: it counts when all earlier stages of the pass do. Tells when it came out of its turn. */
function count(progress: FastenerProgress, record: FastenerRecord, stages: JointProcedure['stages']): boolean {
  if (progress.needs === 'replace' || (progress.needs === 'restart' && record.stage !== 1)) return true
  if (record.stage === 1) {
    progress.tightened_again ||= progress.needs === 'restart'
    progress.pass = [record.id]
    progress.needs = 'tighten'
  } else if (record.stage === progress.pass.length + 1) progress.pass.push(record.id)
  else {
    // Reading a torque once more turns nothing that was right; turning once more by an angle adds degrees.
    const kind = stages[record.stage - 1]!.kind
    if (record.stage !== progress.pass.length || kind === 'angle' || kind === 'loosen') return false
    progress.pass[record.stage - 1] = record.id
  }
  if (progress.pass.length === stages.length) progress.fault = null
  return true
}

/**
 * Reads one more standing record of a position into its progress, which it changes; answers the fault that the record is,
 * or null. A record of a fastener that has been taken out since changes nothing. A higher fastener number means that a new
 * one has been fitted, whether or not an event said so; an event `replaced` may name the old one or the new.
 */
export function readRecord(
  progress: FastenerProgress,
  record: FastenerRecord,
  procedure: JointProcedure,
): Fault | null {
  if (record.fastener < progress.fastener) return null
  if (record.event === 'replaced') {
    const isSaid = record.fastener === progress.fastener && progress.fitted_by_event
    if (!isSaid) renew(progress, Math.max(record.fastener, progress.fastener + 1), true)
    return null
  }
  if (record.fastener > progress.fastener) renew(progress, record.fastener, false)
  progress.fitted_by_event = false
  const found = faultOf(record) ?? (count(progress, record, procedure.stages) ? null : 'out_of_turn')
  if (found === null) return null
  const rule = ruleFor(found, procedure.stages[record.stage - 1]!.kind, procedure)
  const fault = { kind: found, stage: record.stage, record_id: record.id, rule }
  undo(progress, fault, rule === 'replace' || found === 'broke' ? 'replace' : 'restart')
  return fault
}

import { settingsOf } from '../../accounts/index.ts'
import { calibrationOn } from '../../core/fastening/calibration-on.ts'
import { instrumentUncertainty } from '../../core/fastening/instrument-uncertainty.ts'
import { setVerdict } from '../../core/fastening/set-verdict.ts'
import { tolerance } from '../../core/fastening/tolerance.ts'
import { verdict } from '../../core/fastening/verdict.ts'
import { wrenchUsable } from '../../core/fastening/wrench-usable.ts'
import { toSi } from '../../core/quantities.ts'
import type { StageKind } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { type FieldError, invalid, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import { wrenchFacts } from '../../tools/index.ts'
import type { TorqueRecord, TorqueRecordInput } from '../contract.ts'
import { insertTorqueRecord, type TorqueRecordRow, wrenchUses } from '../queries.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'

const TURNS_BY_ANGLE: StageKind[] = ['angle', 'loosen']

/**
 * Records one fastener at one stage (T): a reading with its verdict, or an event. Nothing is ever refused because it is
 * outside its limits: it is kept, and must be dealt with before the joint can be signed. A correction names the record that
 * it supersedes and says why, and may also be made after hand-back, which puts the joint in doubt.
 *
 * A joint of a voided job takes records too: what was once begun must end tight.
 *
 * Problems: not-found, role-not-allowed, invalid-input, work-order-handed-back, stage-before-its-turn.
 */
export function recordTorque(ctx: Context, jointId: string, input: TorqueRecordInput): TorqueRecord {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    const isCorrection = input.supersedes !== undefined
    if (joint.row.handed_back_at !== null && !isCorrection)
      throw problem('work-order-handed-back', {
        detail: `Work order ${joint.row.order_number} has been handed back. A record of it can only be put right (supersedes and reason).`,
      })
    refuseWhatDoesNotFit(joint, input)
    const record = newRecord(ctx)
    const madeAt = input.made_at === undefined ? record.created_at : fromInstant(input.made_at)
    const row: TorqueRecordRow = {
      ...record,
      joint_id: jointId,
      position: input.position,
      stage: input.stage,
      fastener: fastenerOf(joint, input),
      value: input.value ?? null,
      unit: input.unit ?? null,
      basis: input.basis ?? null,
      wrench_id: input.wrench_id ?? null,
      gauge_id: null,
      adapter_id: null,
      adapter_angle_deg: null,
      stage_as_set_id: null,
      made_at: madeAt,
      out_of_order_reason: input.out_of_order_reason ?? null,
      event: input.event ?? null,
      supersedes_id: input.supersedes ?? null,
      reason: input.reason ?? null,
      ...judged(ctx, joint, input, madeAt),
    }
    insertTorqueRecord(tx, row)
    recordEvent(ctx, tx, { action: 'torque.recorded', table: 'torque_records', id: row.id })
    return torqueRecordToWire(row)
  })
}

/** The fastener at hand: the one that was said, else the standing one, or the new one where it must be replaced. */
function fastenerOf(joint: LoadedJoint, input: TorqueRecordInput): number {
  if (input.fastener !== undefined) return input.fastener
  if (input.supersedes !== undefined) return joint.records.find(record => record.id === input.supersedes)!.fastener
  return joint.state.fasteners[input.position - 1]!.fastener
}

/** Everything that this joint, as it stands, cannot take: each with its field and what to do. */
function refuseWhatDoesNotFit(joint: LoadedJoint, input: TorqueRecordInput): void {
  const faults: FieldError[] = []
  const fault = (pointer: string, detail: string) => faults.push({ pointer, detail, code: 'does_not_fit' })
  const { stages: planned, count } = joint.row.revision
  const stage = planned[input.stage - 1]
  if (input.position > count)
    fault('/position', `This joint has ${count} positions; ${input.position} is none of them.`)
  if (stage === undefined) fault('/stage', `This joint has ${planned.length} stages; ${input.stage} is none of them.`)
  if (input.event === undefined) {
    if (input.value === undefined) fault('/value', 'Give the reading, or say what happened instead (event).')
    if (input.unit === undefined) fault('/unit', 'Say in which unit the reading is.')
    if (input.basis === undefined)
      fault('/basis', 'Say whether the reading was measured, or is what the wrench was set to.')
  } else if (input.value !== undefined) fault('/event', 'A record is a reading or an event, not both.')
  if (stage !== undefined && input.unit !== undefined) {
    const isByAngle = TURNS_BY_ANGLE.includes(stage.kind)
    if (isByAngle && input.unit !== 'deg')
      fault('/unit', `Stage ${input.stage} is turned by an angle: give it in degrees.`)
    if (!isByAngle && input.unit === 'deg')
      fault('/unit', `Stage ${input.stage} is a torque: give it in a unit of torque.`)
    if (isByAngle && input.basis === 'set') fault('/basis', 'An angle is measured; a wrench cannot be set to it.')
    if (isByAngle && input.value !== undefined && input.value > 1440)
      fault('/value', 'More than four turns is no angle of a stage.')
  }
  faults.push(...faultsOfCorrection(joint, input))
  if (faults.length > 0) throw invalid(...faults)
  refuseOutOfTurn(joint, input)
}

function faultsOfCorrection(joint: LoadedJoint, input: TorqueRecordInput): FieldError[] {
  if (input.supersedes === undefined) return []
  const faults: FieldError[] = []
  const old = joint.records.find(record => record.id === input.supersedes)
  if (old === undefined)
    faults.push({ pointer: '/supersedes', detail: 'This joint has no such record.', code: 'unknown' })
  else if (old.position !== input.position || old.stage !== input.stage)
    faults.push({
      pointer: '/supersedes',
      detail: 'A correction is of the same position and stage as the record it puts right.',
      code: 'does_not_fit',
    })
  if (joint.records.some(record => record.supersedes_id === input.supersedes))
    faults.push({
      pointer: '/supersedes',
      detail: 'That record has been put right already; name the newest one.',
      code: 'superseded',
    })
  if (input.reason === undefined)
    faults.push({ pointer: '/reason', detail: 'Say why the record is put right.', code: 'missing' })
  return faults
}

/** A stage before its earlier ones, or a fastener number that nobody has fitted, would record what cannot have been. */
function refuseOutOfTurn(joint: LoadedJoint, input: TorqueRecordInput): void {
  if (input.supersedes !== undefined) return
  const standing = joint.state.fasteners[input.position - 1]!
  const fastener = input.fastener ?? standing.fastener
  if (fastener > standing.fastener + 1)
    throw invalid({
      pointer: '/fastener',
      detail: `Position ${input.position} has its fastener no. ${standing.fastener}; the next one is no. ${standing.fastener + 1}.`,
      code: 'does_not_fit',
    })
  if (input.event !== undefined) return
  const doneStages =
    fastener === standing.fastener ? standing.stages.filter(stage => stage.record_id !== null).length : 0
  if (input.stage > doneStages + 1)
    throw problem('stage-before-its-turn', {
      detail: `Position ${input.position} is at stage ${doneStages + 1}; stage ${input.stage} comes only after it. Nothing was recorded.`,
    })
}

type Judgement = Pick<
  TorqueRecordRow,
  'value_si' | 'lower' | 'upper' | 'uncertainty' | 'verdict' | 'conformance_probability'
>

const NO_JUDGEMENT: Judgement = {
  value_si: null,
  lower: null,
  upper: null,
  uncertainty: null,
  verdict: null,
  conformance_probability: null,
}

/** The verdict, with the limits and the uncertainty that it was given by, so that it can be read for ever. */
function judged(ctx: Context, joint: LoadedJoint, input: TorqueRecordInput, madeAt: number): Judgement {
  const { value, unit, basis } = input
  if (value === undefined || unit === undefined) return NO_JUDGEMENT
  const settings = settingsOf(ctx)
  const stage = joint.row.revision.stages[input.stage - 1]!
  const { lower, upper } = tolerance(stage, settings.default_tolerance_bp)
  if (unit === 'deg') {
    const uncertainty = settings.gauge_uncertainty_deg
    return { value_si: value, lower, upper, uncertainty, ...verdict({ lower, upper, value, uncertainty }) }
  }
  const valueNm = toSi(value, unit)
  const wrench = wrenchAt(ctx, input.wrench_id, valueNm, madeAt)
  if (basis === 'set') {
    const judgement = setVerdict({
      set_nm: valueNm,
      stage_set_nm: stage.target,
      scale_division_nm: wrench.scale_division_nm,
      wrench_usable: wrench.usable,
      lower,
      upper,
      uncertainty: wrench.uncertainty,
    })
    return {
      value_si: valueNm,
      lower,
      upper,
      uncertainty: wrench.uncertainty,
      verdict: judgement.verdict,
      conformance_probability: null,
    }
  }
  return {
    value_si: valueNm,
    lower,
    upper,
    uncertainty: wrench.uncertainty,
    ...verdict({ lower, upper, value: valueNm, uncertainty: wrench.uncertainty }),
  }
}

/**
 * What a wrench was good for at a value on the day of the reading. One that is in no register, out of calibration, out of
 * use or out of its range has no known uncertainty: what it measures is kept, and conforms nowhere.
 */
function wrenchAt(ctx: Context, wrenchId: string | undefined, valueNm: number, madeAt: number) {
  const unknown = { usable: false, uncertainty: null, scale_division_nm: null }
  if (wrenchId === undefined) return unknown
  const facts = wrenchFacts(ctx, wrenchId)
  if (facts === undefined)
    throw invalid({
      pointer: '/wrench_id',
      detail: 'There is no wrench with this id in the register.',
      code: 'unknown',
    })
  const day = toInstant(madeAt).slice(0, 10)
  const certificate = calibrationOn(facts.calibrations, day)
  const cycles = certificate === null ? null : wrenchUses(ctx.read, wrenchId, Date.parse(certificate.made_on))
  if (wrenchUsable({ ...facts, cycles }, valueNm, day).length > 0)
    return { ...unknown, scale_division_nm: facts.scale_division_nm }
  const uncertainty = instrumentUncertainty(valueNm, { ...facts, points: certificate?.points ?? [] })
  return { usable: true, uncertainty, scale_division_nm: facts.scale_division_nm }
}

export function torqueRecordToWire(row: TorqueRecordRow): TorqueRecord {
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    joint_id: row.joint_id,
    position: row.position,
    stage: row.stage,
    fastener: row.fastener,
    ...(row.value !== null && { value: row.value }),
    ...(row.unit !== null && { unit: row.unit }),
    ...(row.basis !== null && { basis: row.basis }),
    ...(row.wrench_id !== null && { wrench_id: row.wrench_id }),
    made_at: toInstant(row.made_at),
    ...(row.out_of_order_reason !== null && { out_of_order_reason: row.out_of_order_reason }),
    ...(row.event !== null && { event: row.event }),
    ...(row.supersedes_id !== null && { supersedes: row.supersedes_id }),
    ...(row.reason !== null && { reason: row.reason }),
    value_si: row.value_si,
    lower: row.lower,
    upper: row.upper,
    uncertainty: row.uncertainty,
    verdict: row.verdict,
    conformance_probability: row.conformance_probability,
    recorded_at: toInstant(row.created_at),
  }
}

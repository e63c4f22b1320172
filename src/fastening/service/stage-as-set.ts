import { settingsOf } from '../../accounts/index.ts'
import { hasOwnFault } from '../../core/fastening/own-fault.ts'
import type { FastenerState } from '../../core/fastening/stages.ts'
import { fromSi } from '../../core/quantities.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { type FieldError, invalid, problem } from '../../platform/problems.ts'
import { toInstant } from '../../platform/wire.ts'
import { wrenchFacts } from '../../tools/index.ts'
import type { StageAsSet, StageAsSetInput, TorqueRecordInput } from '../contract.ts'
import { insertTorqueRecord, type TorqueRecordRow } from '../queries.ts'
import { fastenerName } from '../rules/fastener-name.ts'
import { needsSecondPerson } from '../rules.ts'
import { type LoadedJoint, loadJoint, stateFrom } from './joints.ts'
import { adapterFactor, judged, unknownTools } from './judge.ts'
import { faultsOfTime, refuseWhatDoesNotFit, TURNS_BY_ANGLE } from './record-fits.ts'
import { madeAtOf, newTorqueRecord } from './record-torque.ts'
import { refuseHandedBack, refuseLeft } from './refusals.ts'
import { torqueRecordToWire } from './torque-wire.ts'

/**
 * Records a torque stage for every fastener that still needs it, as set on a click wrench (T): one record each, which say
 * `set` and share an id. An exception gets its own event or reading, or nothing. A fastener with a fault of its own is left
 * out and named: it is dealt with by itself.
 *
 * Problems: not-found, role-not-allowed, invalid-input, work-order-handed-back, joint-left, mark-missing,
 * stage-as-set-not-allowed, stage-before-its-turn.
 */
export function recordStageAsSet(ctx: Context, jointId: string, input: StageAsSetInput): StageAsSet {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    refuseHandedBack(joint)
    refuseLeft(ctx, joint)
    refuseNotAllowed(ctx, joint)
    const faults = [...faultsOfSetting(ctx, joint, input), ...faultsOfTime(ctx, joint, input.made_at)]
    if (faults.length > 0) throw invalid(...faults)
    const madeAt = madeAtOf(ctx, input)
    const stage = joint.row.revision.stages[input.stage - 1]!
    const id = ctx.ids.next()
    const setting = settingOf(ctx, joint, input)
    const positions = positionsFor(joint, input)
    const [first] = positions
    if (first !== undefined) refuseWhatDoesNotFit(ctx, joint, { ...setting, position: first })
    const judgement = judged(ctx, stage, setting, madeAt)
    const exceptions = exceptionsFor(ctx, joint, input)
    // the exceptions come last: one that makes the whole joint be done again undoes what was set just now, too
    const rows: TorqueRecordRow[] = [
      ...positions.map(position => newTorqueRecord(ctx, joint, { ...setting, position }, madeAt, judgement, id)),
      ...exceptions.map(({ own, at }) =>
        newTorqueRecord(ctx, joint, own, madeAt, judged(ctx, stage, own, madeAt, at), id),
      ),
    ]
    const [subject] = rows
    if (subject === undefined)
      throw invalid({
        pointer: '/stage',
        detail: `No fastener of this joint needs stage ${input.stage} now. Nothing was recorded.`,
        code: 'nothing_to_do',
      })
    for (const row of rows) insertTorqueRecord(tx, row)
    recordEvent(ctx, tx, { action: 'stage.recorded-as-set', table: 'torque_records', id: subject.id })
    return stageAsSetToWire(joint, id, rows)
  })
}

/** Each time that a whole stage was recorded as set, in order of recording. 404 for an unknown joint. */
export function stagesAsSetOfJoint(ctx: Context, jointId: string): StageAsSet[] {
  const joint = loadJoint(ctx, jointId)
  const groups = new Map<string, TorqueRecordRow[]>()
  for (const record of joint.records)
    if (record.stage_as_set_id !== null)
      groups.set(record.stage_as_set_id, [...(groups.get(record.stage_as_set_id) ?? []), record])
  return [...groups].map(([id, rows]) => stageAsSetToWire(joint, id, rows))
}

function refuseNotAllowed(ctx: Context, { row }: LoadedJoint): void {
  if (!needsSecondPerson(row.revision.severity) || settingsOf(ctx).stage_as_set_on_safety) return
  throw problem('stage-as-set-not-allowed', {
    detail: `Safety hangs on ${row.joint.name}: record each of its fasteners by itself. Nothing was recorded.`,
  })
}

function faultsOfSetting(ctx: Context, joint: LoadedJoint, input: StageAsSetInput): FieldError[] {
  const { stages: planned, count } = joint.row.revision
  const stage = planned[input.stage - 1]
  const faults: FieldError[] = []
  const fault = (pointer: string, detail: string, code = 'does_not_fit') => faults.push({ pointer, detail, code })
  if (stage === undefined) fault('/stage', `This joint has ${planned.length} stages; ${input.stage} is none of them.`)
  else if (TURNS_BY_ANGLE.includes(stage.kind))
    fault('/stage', 'This stage is turned by an angle: no wrench can be set to it. Record each fastener by itself.')
  if (input.wrench_id === undefined)
    fault('/wrench_id', 'Say which wrench was set: without one nothing can be proved.', 'missing')
  else {
    const wrench = wrenchFacts(ctx, input.wrench_id)
    if (wrench === undefined) fault('/wrench_id', 'There is no wrench with this id in the register.', 'unknown')
    else if (wrench.kind !== 'clicks')
      fault('/wrench_id', `Wrench ${wrench.name} shows what it measures: record each fastener with its own reading.`)
  }
  faults.push(...unknownTools(ctx, { adapter_id: input.adapter_id }))
  for (const [at, exception] of (input.exceptions ?? []).entries()) {
    const { position } = exception
    faults.push(...unknownTools(ctx, exception, `/exceptions/${at}`))
    const pointer = `/exceptions/${at}/position`
    if (position > count) fault(pointer, `This joint has ${count} positions; ${position} is none of them.`)
    if (input.exceptions!.findIndex(other => other.position === position) !== at)
      fault(pointer, `Position ${position} stands here twice. Keep one of them.`, 'twice')
  }
  return faults
}

/** What each of them gets. Without a value: what the wrench must be set to, so that the joint gets the target. */
function settingOf(ctx: Context, joint: LoadedJoint, input: StageAsSetInput): Omit<TorqueRecordInput, 'position'> {
  const { stage, wrench_id, adapter_id, adapter_angle_deg, unit = 'N.m' } = input
  const tools = {
    ...(wrench_id !== undefined && { wrench_id }),
    ...(adapter_id !== undefined && { adapter_id }),
    ...(adapter_angle_deg !== undefined && { adapter_angle_deg }),
  }
  const target = () => {
    const wrench = wrench_id === undefined ? undefined : wrenchFacts(ctx, wrench_id)
    const ownNm = joint.row.revision.stages[stage - 1]!.target / adapterFactor(ctx, wrench ?? null, tools)
    return unit === 'deg' ? ownNm : fromSi(ownNm, unit)
  }
  return { stage, ...tools, value: input.value ?? target(), unit, basis: 'set' }
}

/** The fasteners that the setting goes to, in the order of tightening. 409 while one without a fault is at an earlier stage. */
function positionsFor({ state, procedure }: LoadedJoint, { stage, exceptions = [] }: StageAsSetInput): number[] {
  const excepted = new Set(exceptions.map(exception => exception.position))
  const others = procedure.order
    .map(position => state.fasteners[position - 1]!)
    .filter(fastener => !excepted.has(fastener.position) && !hasOwnFault(fastener) && !fastener.complete)
  const behind = others.filter(fastener => fastener.next_stage! < stage)
  if (behind.length > 0)
    throw problem('stage-before-its-turn', {
      detail: `${behind.length === 1 ? 'One fastener has' : `${behind.length} fasteners have`} not had stage ${Math.min(...behind.map(fastener => fastener.next_stage!))} yet; stage ${stage} comes only after it. Nothing was recorded.`,
    })
  return others.filter(fastener => fastener.next_stage === stage).map(fastener => fastener.position)
}

function exceptionsFor(ctx: Context, joint: LoadedJoint, { stage, exceptions = [] }: StageAsSetInput) {
  return exceptions.flatMap((exception, nth) => {
    if (exception.event === undefined && exception.value === undefined) return []
    const own: TorqueRecordInput = { ...exception, stage }
    const at = `/exceptions/${nth}`
    refuseWhatDoesNotFit(ctx, joint, own, at)
    return [{ own, at }]
  })
}

function stageAsSetToWire(joint: LoadedJoint, id: string, rows: readonly TorqueRecordRow[]): StageAsSet {
  const first = rows[0]!
  const before = stateFrom(joint.procedure, joint.records, joint.leavings, first)
  const recorded = new Set(rows.map(row => row.position))
  const left = before.fasteners.filter(
    fastener =>
      !recorded.has(fastener.position) &&
      !fastener.complete &&
      (hasOwnFault(fastener) || fastener.next_stage === first.stage),
  )
  return {
    id,
    created_at: toInstant(first.created_at),
    created_by: first.created_by,
    joint_id: joint.row.joint.id,
    stage: first.stage,
    records: rows.map(torqueRecordToWire),
    left_out: left.map(fastener => ({
      position: fastener.position,
      sentence: leftOutWords(fastenerName(joint.procedure.order, fastener.position), fastener),
    })),
  }
}

function leftOutWords(name: string, { fault, needs }: FastenerState): string {
  if (fault === null) return `${name} was excepted, and nothing was recorded on it.`
  const todo = needs === 'replace' ? 'it needs a new fastener first' : 'it is loosened and done again by itself'
  return `${name} has a fault at stage ${fault.stage}: ${todo}.`
}

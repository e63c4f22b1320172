import type { StageKind } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { type FieldError, invalid, problem } from '../../platform/problems.ts'
import { fromInstant } from '../../platform/wire.ts'
import { markMissing, marksMissingOnJoint } from '../../work-orders/index.ts'
import type { TorqueRecordInput } from '../contract.ts'
import { fastenerName } from '../rules/fastener-name.ts'
import type { LoadedJoint } from './joints.ts'
import { unknownTools } from './judge.ts'

export const TURNS_BY_ANGLE: StageKind[] = ['angle', 'loosen']

/** Clocks of two machines differ a little. */
const CLOCK_SLACK_MS = 10 * 60_000
/** What was written on paper may be typed in later than its job was: so many days, but not in another year. */
const TYPED_LATER_DAYS = 31

/** Everything that this joint, as it stands, cannot take: each with its field and what to do. `at`: where the fields stand. */
export function refuseWhatDoesNotFit(ctx: Context, joint: LoadedJoint, input: TorqueRecordInput, at = ''): void {
  const unfit = [
    ...faultsOfPlace(joint, input),
    ...faultsOfReading(joint, input),
    ...faultsOfCorrection(joint, input),
    ...faultsOfTime(ctx, joint, input.made_at),
  ]
  // whether a tool that does not belong here is in the register is no matter
  const unknown = unknownTools(ctx, input).filter(tool => !unfit.some(fault => fault.pointer === tool.pointer))
  const faults = [...unfit, ...unknown].map(fault => ({ ...fault, pointer: `${at}${fault.pointer}` }))
  if (faults.length > 0) throw invalid(...faults)
  refuseOutOfTurn(joint, input, at)
  refuseUnmarked(ctx, joint)
}

const doesNotFit = (pointer: string, detail: string): FieldError => ({ pointer, detail, code: 'does_not_fit' })

function faultsOfPlace({ row }: LoadedJoint, { position, stage }: TorqueRecordInput): FieldError[] {
  const { stages: planned, count } = row.revision
  const faults: FieldError[] = []
  if (position > count)
    faults.push(doesNotFit('/position', `This joint has ${count} positions; ${position} is none of them.`))
  if (planned[stage - 1] === undefined)
    faults.push(doesNotFit('/stage', `This joint has ${planned.length} stages; ${stage} is none of them.`))
  return faults
}

function faultsOfReading({ row }: LoadedJoint, input: TorqueRecordInput): FieldError[] {
  const { value, unit, basis, event, withdrawn } = input
  const stage = row.revision.stages[input.stage - 1]
  const faults: FieldError[] = []
  const fault = (pointer: string, detail: string) => faults.push(doesNotFit(pointer, detail))
  if (withdrawn) {
    if (value !== undefined || event !== undefined)
      fault('/withdrawn', 'What was not done has neither a reading nor an event.')
  } else if (event === undefined) {
    if (value === undefined) fault('/value', 'Give the reading, or say what happened instead.')
    if (unit === undefined) fault('/unit', 'Say in which unit the reading is.')
    if (basis === undefined) fault('/basis', 'Say whether the reading was measured, or is what the wrench was set to.')
  } else if (value !== undefined) fault('/event', 'A record is a reading or an event, not both.')
  if (stage !== undefined) {
    const isByAngle = TURNS_BY_ANGLE.includes(stage.kind)
    if (isByAngle && unit !== undefined && unit !== 'deg')
      fault('/unit', `Stage ${input.stage} is turned by an angle: give it in degrees.`)
    if (!isByAngle && unit === 'deg') fault('/unit', `Stage ${input.stage} is a torque: give it in a unit of torque.`)
    if (isByAngle && basis === 'set') fault('/basis', 'An angle is measured; a wrench cannot be set to it.')
    if (isByAngle && value !== undefined && value > 1440)
      fault('/value', 'More than four turns is no angle of a stage.')
    if (isByAngle && input.adapter_id !== undefined) fault('/adapter_id', 'An angle does not change by an adapter.')
    if (!isByAngle && input.gauge_id !== undefined) fault('/gauge_id', 'A gauge reads angles; this stage is a torque.')
  }
  if (input.adapter_angle_deg !== undefined && input.adapter_id === undefined)
    fault('/adapter_angle_deg', 'This is the angle of an adapter: say which one.')
  if (input.wrench_note !== undefined && input.wrench_id !== undefined)
    fault('/wrench_note', 'The wrench is in the register: these words are for one that is not.')
  return faults
}

function faultsOfCorrection(joint: LoadedJoint, input: TorqueRecordInput): FieldError[] {
  if (input.supersedes === undefined)
    return input.withdrawn
      ? [{ pointer: '/supersedes', detail: 'Say which record was not done.', code: 'missing' }]
      : []
  const faults: FieldError[] = []
  const old = joint.records.find(record => record.id === input.supersedes)
  if (old === undefined)
    faults.push({ pointer: '/supersedes', detail: 'This joint has no such record.', code: 'unknown' })
  else if (old.stage !== input.stage)
    faults.push(doesNotFit('/stage', 'A correction is of the same stage as the record it puts right.'))
  else if (input.withdrawn && old.position !== input.position)
    faults.push(doesNotFit('/position', 'Give the position of the record that was not done.'))
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

/** A reading cannot lie in the future, nor long before there was a job to make it on. */
export function faultsOfTime(ctx: Context, { row }: LoadedJoint, madeAt: string | undefined): FieldError[] {
  if (madeAt === undefined) return []
  const at = fromInstant(madeAt)
  if (at > ctx.clock.now() + CLOCK_SLACK_MS)
    return [{ pointer: '/made_at', detail: 'This lies in the future. Say when it was made.', code: 'future' }]
  if (at < row.job.created_at - TYPED_LATER_DAYS * 86_400_000)
    return [
      {
        pointer: '/made_at',
        detail: `This is more than ${TYPED_LATER_DAYS} days before its job was written down. Look at day and year.`,
        code: 'too_early',
      },
    ]
  return []
}

/** A stage before its earlier ones, or a fastener number that nobody has fitted, would record what cannot have been. */
function refuseOutOfTurn(joint: LoadedJoint, input: TorqueRecordInput, at: string): void {
  if (joint.records.some(({ id, position }) => id === input.supersedes && position === input.position)) return
  const standing = joint.state.fasteners[input.position - 1]!
  const name = fastenerName(joint.procedure.order, input.position)
  const fastener = input.fastener ?? standing.fastener
  if (fastener > standing.fastener + 1)
    throw invalid(
      doesNotFit(
        `${at}/fastener`,
        `${name} has no. ${standing.fastener} in it; a new one there is no. ${standing.fastener + 1}.`,
      ),
    )
  if (input.event !== undefined) return
  const doneStages =
    fastener === standing.fastener ? standing.stages.filter(stage => stage.record_id !== null).length : 0
  if (input.stage > doneStages + 1)
    throw problem('stage-before-its-turn', {
      detail: `${name} is at stage ${doneStages + 1}; stage ${input.stage} comes only after it. Nothing was recorded.`,
    })
}

/** The position marks that are made before anything is done to a joint: afterwards nobody knows where things stood. */
export function marksFirst(ctx: Context, { records, row }: LoadedJoint) {
  return records.length > 0 ? [] : marksMissingOnJoint(ctx, row.joint.id)
}

function refuseUnmarked(ctx: Context, joint: LoadedJoint): void {
  const missing = marksFirst(ctx, joint)
  if (missing.length === 0) return
  const texts = missing.map(mark => mark.text).join('; ')
  throw markMissing(`Before ${joint.row.joint.name} is touched: ${texts}. Nothing was recorded.`, missing)
}

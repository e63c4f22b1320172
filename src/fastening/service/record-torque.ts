import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { TorqueRecord, TorqueRecordInput } from '../contract.ts'
import { insertTorqueRecord, type TorqueRecordRow } from '../queries.ts'
import { type LoadedJoint, loadJoint, stateFrom } from './joints.ts'
import { type Judgement, judged } from './judge.ts'
import { refuseWhatDoesNotFit } from './record-fits.ts'
import { refuseHandedBack, refuseLeft } from './refusals.ts'
import { torqueRecordToWire } from './torque-wire.ts'
import { isOutOfTurn, NO_REASON_GIVEN } from './turn.ts'

/**
 * Records one fastener at one stage (T): a reading with its verdict, or an event. Nothing is ever refused because it is
 * outside its limits: it is kept, and must be dealt with before the joint can be signed. A correction names the record that
 * it supersedes and says why, and may also be made after hand-back, which puts the joint in doubt. It says what was done
 * then: another reading, on another fastener, or that it was not done.
 *
 * A fastener out of its turn is recorded with its reason, or with the words that nobody gave one; the pages ask for it.
 * A joint of a voided job takes records too: what was once begun must end tight.
 *
 * Problems: not-found, role-not-allowed, invalid-input, work-order-handed-back, joint-left, mark-missing,
 * stage-before-its-turn.
 */
export function recordTorque(ctx: Context, jointId: string, input: TorqueRecordInput): TorqueRecord {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    if (input.supersedes === undefined) refuseHandedBack(joint)
    refuseLeft(ctx, joint)
    refuseWhatDoesNotFit(ctx, joint, input)
    const madeAt = madeAtOf(ctx, input)
    const judgement = judged(ctx, joint.row.revision.stages[input.stage - 1]!, input, madeAt)
    const row = newTorqueRecord(ctx, joint, whyOutOfTurn(joint, input), madeAt, judgement)
    insertTorqueRecord(tx, row)
    recordEvent(ctx, tx, { action: 'torque.recorded', table: 'torque_records', id: row.id })
    return torqueRecordToWire(row)
  })
}

/** Where order matters, the record of a fastener out of its turn says why, or that nobody did. */
function whyOutOfTurn(joint: LoadedJoint, input: TorqueRecordInput): TorqueRecordInput {
  if (input.out_of_order_reason !== undefined || !isOutOfTurn(joint, input)) return input
  return { ...input, out_of_order_reason: NO_REASON_GIVEN }
}

/** When it was made: as was said, else now. */
export function madeAtOf(ctx: Context, { made_at }: Pick<TorqueRecordInput, 'made_at'>): number {
  return made_at === undefined ? ctx.clock.now() : fromInstant(made_at)
}

/** The row of a record that fits, with the verdict that it was given. */
export function newTorqueRecord(
  ctx: Context,
  joint: LoadedJoint,
  input: TorqueRecordInput,
  madeAt: number,
  judgement: Judgement,
  stageAsSetId: string | null = null,
): TorqueRecordRow {
  return {
    ...newRecord(ctx),
    joint_id: joint.row.joint.id,
    position: input.position,
    stage: input.stage,
    fastener: fastenerOf(joint, input),
    value: input.value ?? null,
    unit: input.unit ?? null,
    basis: input.basis ?? null,
    wrench_id: input.wrench_id ?? null,
    wrench_note: input.wrench_note ?? null,
    gauge_id: input.gauge_id ?? null,
    adapter_id: input.adapter_id ?? null,
    adapter_angle_deg: input.adapter_id === undefined ? null : (input.adapter_angle_deg ?? 0),
    stage_as_set_id: stageAsSetId,
    made_at: madeAt,
    withdrawn: input.withdrawn === true ? true : null,
    out_of_order_reason: input.out_of_order_reason ?? null,
    event: input.event ?? null,
    supersedes_id: input.supersedes ?? null,
    reason: input.reason ?? null,
    ...judgement,
    ...(input.withdrawn === true && whatWasNotDone(joint, input)),
  }
}

/** A withdrawal repeats what it withdraws, without the tool: nothing was turned with it. */
function whatWasNotDone(joint: LoadedJoint, input: TorqueRecordInput) {
  const { value, unit, basis, event } = supersededBy(joint, input)!
  return { value, unit, basis, event }
}

function supersededBy({ records }: LoadedJoint, input: TorqueRecordInput): TorqueRecordRow | undefined {
  return records.find(record => record.id === input.supersedes)
}

/** The fastener at hand: the one that was said, else the one that was there when the record put right was made, else that now. */
function fastenerOf(joint: LoadedJoint, input: TorqueRecordInput): number {
  if (input.fastener !== undefined) return input.fastener
  const old = supersededBy(joint, input)
  if (old?.position === input.position) return old.fastener
  const { fasteners } = old === undefined ? joint.state : stateFrom(joint.procedure, joint.records, joint.leavings, old)
  return fasteners[input.position - 1]!.fastener
}

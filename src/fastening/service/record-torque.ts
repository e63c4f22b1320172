import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { TorqueRecord, TorqueRecordInput } from '../contract.ts'
import { insertTorqueRecord, type TorqueRecordRow } from '../queries.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'
import { type Judgement, judged } from './judge.ts'
import { refuseWhatDoesNotFit } from './record-fits.ts'
import { refuseHandedBack, refuseLeft } from './refusals.ts'
import { torqueRecordToWire } from './torque-wire.ts'

/**
 * Records one fastener at one stage (T): a reading with its verdict, or an event. Nothing is ever refused because it is
 * outside its limits: it is kept, and must be dealt with before the joint can be signed. A correction names the record that
 * it supersedes and says why, and may also be made after hand-back, which puts the joint in doubt.
 *
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
    const row = newTorqueRecord(ctx, joint, input, madeAt, judgement)
    insertTorqueRecord(tx, row)
    recordEvent(ctx, tx, { action: 'torque.recorded', table: 'torque_records', id: row.id })
    return torqueRecordToWire(row)
  })
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
    out_of_order_reason: input.out_of_order_reason ?? null,
    event: input.event ?? null,
    supersedes_id: input.supersedes ?? null,
    reason: input.reason ?? null,
    ...judgement,
  }
}

/** The fastener at hand: the one that was said, else that of the record put right, else the one that stands there. */
function fastenerOf(joint: LoadedJoint, input: TorqueRecordInput): number {
  if (input.fastener !== undefined) return input.fastener
  if (input.supersedes !== undefined) return joint.records.find(record => record.id === input.supersedes)!.fastener
  return joint.state.fasteners[input.position - 1]!.fastener
}

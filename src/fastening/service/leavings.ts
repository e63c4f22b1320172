import { namesOfPeople } from '../../accounts/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { stopRunningClock } from '../../work-orders/index.ts'
import type { JointLeaving, JointLeavingInput, JointResumption, JointResumptionInput } from '../contract.ts'
import { insertLeaving, insertResumption, type LeavingRow, leavingRow } from '../queries/joint-facts.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'
import { leavingToWire, nameOf, resumptionToWire } from './leaving-wire.ts'
import { refuseHandedBack, refuseLeft, when } from './refusals.ts'

/**
 * Somebody stops at a joint half way (T): nothing more is recorded or signed on it until a person says how it goes on. The
 * clock of whoever leaves stops.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back, joint-left, already-signed.
 */
export function leaveJoint(ctx: Context, jointId: string, { reason }: JointLeavingInput): JointLeaving {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    refuseHandedBack(joint)
    refuseLeft(ctx, joint)
    if (joint.signed)
      throw problem('already-signed', {
        detail: `${joint.row.joint.name} is done and signed: nothing is left half way.`,
      })
    const { next } = joint.state
    const record = newRecord(ctx)
    const row = {
      ...{ ...record, joint_id: jointId, reason, at: record.created_at },
      ...{ position: next?.position ?? null, stage: next?.stage ?? null },
    }
    insertLeaving(tx, row)
    stopRunningClock(ctx, joint.row.job.id)
    recordEvent(ctx, tx, { action: 'joint.left', table: 'joint_leavings', id: row.id })
    return leavingToWire({ ...row, resumption: null }, namesOfPeople(ctx))
  })
}

/**
 * Somebody takes up a joint that was left (T). `start_over`: what was recorded before counts no more, since nobody knows how
 * tight it is.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back, joint-resumed.
 */
export function resumeJoint(ctx: Context, leavingId: string, { how }: JointResumptionInput): JointResumption {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const leaving = requireLeaving(ctx, leavingId)
    refuseHandedBack(loadJoint(ctx, leaving.joint_id))
    if (leaving.resumption !== null)
      throw problem('joint-resumed', {
        detail: `${nameOf(namesOfPeople(ctx), leaving.resumption.created_by)} has taken it up again ${when(ctx, leaving.resumption.at)}.`,
      })
    const record = newRecord(ctx)
    const row = { ...record, leaving_id: leavingId, how, at: record.created_at }
    insertResumption(tx, row)
    recordEvent(ctx, tx, { action: 'joint.resumed', table: 'joint_resumptions', id: row.id })
    return resumptionToWire(row)
  })
}

/** Oldest first. 404 for an unknown joint. */
export function leavingsOfJoint(ctx: Context, jointId: string): JointLeaving[] {
  const names = namesOfPeople(ctx)
  const { leavings }: LoadedJoint = loadJoint(ctx, jointId)
  return leavings.map(leaving => leavingToWire(leaving, names))
}

/** 404 while nobody has taken the joint up again. */
export function resumptionOfLeaving(ctx: Context, leavingId: string): JointResumption {
  const { resumption } = requireLeaving(ctx, leavingId)
  if (resumption === null) throw notFound('resumption of the leaving', leavingId)
  return resumptionToWire(resumption)
}

function requireLeaving(ctx: Context, id: string): LeavingRow {
  const row = leavingRow(ctx.read, id)
  if (row === undefined) throw notFound('leaving of a joint', id)
  return row
}

import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { FastenerInspection, FastenerInspectionInput, TemporaryUse, TemporaryUseInput } from '../contract.ts'
import {
  type InspectionRow,
  insertInspection,
  insertTemporaryUse,
  type TemporaryUseRow,
} from '../queries/joint-facts.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'
import { refuseHandedBack } from './refusals.ts'

/**
 * Old fasteners that may not be used again go in for a time, to move the vehicle inside the house (T). From then on nobody
 * can sign the joint, until new ones are noted on it and every position has one with all its stages.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back, fasteners-reusable.
 */
export function useTemporarily(ctx: Context, jointId: string, { reason }: TemporaryUseInput): TemporaryUse {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    refuseReusable(loadJointInHouse(ctx, jointId))
    const record = newRecord(ctx)
    const row = { ...record, joint_id: jointId, reason, at: record.created_at }
    insertTemporaryUse(tx, row)
    recordEvent(ctx, tx, { action: 'fasteners.used-temporarily', table: 'temporary_uses', id: row.id })
    return temporaryUseToWire(row)
  })
}

/**
 * Fasteners that may be used again after inspection were looked at (T): fit, or not; then new ones are needed. The newest
 * word counts.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back.
 */
export function inspectFasteners(ctx: Context, jointId: string, input: FastenerInspectionInput): FastenerInspection {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    loadJointInHouse(ctx, jointId)
    const row = { ...newRecord(ctx), joint_id: jointId, fit: input.fit, note: input.note ?? null }
    insertInspection(tx, row)
    recordEvent(ctx, tx, { action: 'fasteners.inspected', table: 'fastener_inspections', id: row.id })
    return inspectionToWire(row)
  })
}

/** Oldest first. 404 for an unknown joint. */
export function temporaryUsesOfJoint(ctx: Context, jointId: string): TemporaryUse[] {
  return loadJoint(ctx, jointId).temporary_uses.map(temporaryUseToWire)
}

/** Oldest first. 404 for an unknown joint. */
export function inspectionsOfJoint(ctx: Context, jointId: string): FastenerInspection[] {
  return loadJoint(ctx, jointId).inspections.map(inspectionToWire)
}

function loadJointInHouse(ctx: Context, jointId: string): LoadedJoint {
  const joint = loadJoint(ctx, jointId)
  refuseHandedBack(joint)
  return joint
}

function refuseReusable({ row }: LoadedJoint): void {
  if (row.revision.reuse !== 'free') return
  throw problem('fasteners-reusable', {
    detail: `The fasteners of ${row.joint.name} may be used again by its procedure: nothing about them is temporary.`,
  })
}

function temporaryUseToWire(row: TemporaryUseRow): TemporaryUse {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

function inspectionToWire({ note, ...row }: InspectionRow): FastenerInspection {
  return { ...row, created_at: toInstant(row.created_at), ...withoutNulls({ note }) }
}

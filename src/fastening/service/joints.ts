import { orderOfPositions } from '../../catalogue/index.ts'
import type { JointProcedure } from '../../core/fastening/fastener-progress.ts'
import { type JointState, stages } from '../../core/fastening/stages.ts'
import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Joint } from '../contract.ts'
import {
  type JointRow,
  jointRows,
  type SignOffRow,
  signOffsOf,
  type TorqueRecordRow,
  torqueRecordsOf,
} from '../queries.ts'
import { isSigned, needsSecondPerson, standingSignatures, stateInWords } from '../rules.ts'

/** A joint with all that was recorded on it, and its state as that makes it. */
export interface LoadedJoint {
  row: JointRow
  procedure: JointProcedure
  records: TorqueRecordRow[]
  sign_offs: SignOffRow[]
  state: JointState
  signed: boolean
}

function procedureOf({
  stages: planned,
  layout,
  count,
  rows,
  order,
  order_names,
  reuse,
  on_failure,
}: JointRow['revision']): JointProcedure {
  const positions = orderOfPositions({ layout, count, ...withoutNulls({ rows, order, order_names }) })
  return { stages: planned, order: positions, reuse, on_failure }
}

export function loadJoints(ctx: Context, jointIds: string[]): LoadedJoint[] {
  const allRecords = torqueRecordsOf(ctx.read, jointIds)
  const allSignOffs = signOffsOf(ctx.read, jointIds)
  return jointRows(ctx.read, jointIds).map(row => {
    const procedure = procedureOf(row.revision)
    const records = allRecords.filter(record => record.joint_id === row.joint.id)
    const sign_offs = allSignOffs.filter(signOff => signOff.joint_id === row.joint.id)
    const state = stages(procedure, records)
    const signed = isSigned(state, row.revision.severity, sign_offs, records)
    return { row, procedure, records, sign_offs, state, signed }
  })
}

export function loadJoint(ctx: Context, jointId: string): LoadedJoint {
  const [joint] = loadJoints(ctx, [jointId])
  if (joint === undefined) throw notFound('joint', jointId)
  return joint
}

/** "all 6 are done; waits for a second person": where the joint stands, in words. */
function sentenceOf(joint: LoadedJoint): string {
  const words = stateInWords(joint.state)
  if (!joint.state.complete) return words
  if (joint.signed) return `${words} and signed`
  const standing = standingSignatures(joint.sign_offs, joint.records)
  const first = standing.some(signature => signature.as === 'technician')
  return first ? `${words}; waits for a second person` : `${words}; not signed yet`
}

export interface JointStanding {
  signed: boolean
  complete: boolean
  needs_second_person: boolean
  sentence: string
}

/** Where each joint stands, for whoever must know whether it may be closed over or handed back. */
export function jointStates(ctx: Context, jointIds: string[]): Map<string, JointStanding> {
  return new Map(
    loadJoints(ctx, jointIds).map(joint => [
      joint.row.joint.id,
      {
        signed: joint.signed,
        complete: joint.state.complete,
        needs_second_person: needsSecondPerson(joint.row.revision.severity),
        sentence: sentenceOf(joint),
      },
    ]),
  )
}

export function jointById(ctx: Context, jointId: string): Joint {
  const joint = loadJoint(ctx, jointId)
  const { id, created_at, created_by, job_id, name, procedure_revision_id } = joint.row.joint
  return {
    id,
    created_at: toInstant(created_at),
    created_by,
    job_id,
    name,
    procedure_revision_id,
    severity: joint.row.revision.severity,
    complete: joint.state.complete,
    signed: joint.signed,
    needs_second_person: needsSecondPerson(joint.row.revision.severity),
    sentence: sentenceOf(joint),
    next: joint.state.next,
  }
}

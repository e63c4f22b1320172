import { orderOfPositions } from '../../catalogue/index.ts'
import type { JointProcedure } from '../../core/fastening/fastener-progress.ts'
import { type JointState, stages } from '../../core/fastening/stages.ts'
import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import { withoutNulls } from '../../platform/wire.ts'
import {
  fittedPartsOf,
  type InspectionRow,
  inspectionsOf,
  type LeavingRow,
  leavingsOf,
  type TemporaryUseRow,
  temporaryUsesOf,
} from '../queries/joint-facts.ts'
import {
  type JointRow,
  jointRows,
  type SignOffRow,
  signOffsOf,
  type TorqueRecordRow,
  torqueRecordsOf,
} from '../queries.ts'
import { type Fitted, fitted } from '../rules/fitted.ts'
import { isLater, isSigned } from '../rules.ts'

/** A joint with all that was recorded on it, and its state as that makes it. */
export interface LoadedJoint {
  row: JointRow
  procedure: JointProcedure
  records: TorqueRecordRow[]
  sign_offs: SignOffRow[]
  leavings: LeavingRow[]
  /** The leaving that nobody has resumed yet. */
  left: LeavingRow | null
  inspections: InspectionRow[]
  temporary_uses: TemporaryUseRow[]
  state: JointState
  /** Whether its fasteners may stay in it. */
  fitted: Fitted
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

/** The state that records make, and whoever started over among them; only what was there before `before`, if that is said. */
export function stateFrom(
  procedure: JointProcedure,
  records: readonly TorqueRecordRow[],
  leavings: readonly LeavingRow[],
  before?: { id: string; created_at: number },
): JointState {
  const startOvers = leavings.flatMap(({ resumption }) =>
    resumption?.how === 'start_over'
      ? [{ id: resumption.id, created_at: resumption.created_at, supersedes_id: null, started_over: true as const }]
      : [],
  )
  const entries = startOvers.length === 0 ? records : [...records, ...startOvers].sort(inTime)
  return stages(procedure, before === undefined ? entries : entries.filter(entry => isLater(before, entry)))
}

function inTime(one: { id: string; created_at: number }, other: { id: string; created_at: number }): number {
  return one.id === other.id ? 0 : isLater(one, other) ? 1 : -1
}

export function loadJoints(ctx: Context, jointIds: string[]): LoadedJoint[] {
  const { read } = ctx
  const rows = jointRows(read, jointIds)
  const own = ofEach(torqueRecordsOf(read, jointIds))
  const ownSignOffs = ofEach(signOffsOf(read, jointIds))
  const ownLeavings = ofEach(leavingsOf(read, jointIds))
  // fasteners that may simply be used again need none of these
  const asked = rows.filter(row => row.revision.reuse !== 'free')
  const askedIds = asked.map(row => row.joint.id)
  const isAsked = askedIds.length > 0
  const ownUses = ofEach(isAsked ? temporaryUsesOf(read, askedIds) : [])
  const ownInspections = ofEach(isAsked ? inspectionsOf(read, askedIds) : [])
  const ownParts = ofEach(isAsked ? fittedPartsOf(read, [...new Set(asked.map(row => row.job.id))]) : [])
  return rows.map(row => {
    const { id } = row.joint
    const procedure = procedureOf(row.revision)
    const records = own(id)
    const sign_offs = ownSignOffs(id)
    const leavings = ownLeavings(id)
    const inspections = ownInspections(id)
    const temporary_uses = ownUses(id)
    const state = stateFrom(procedure, records, leavings)
    const fasteners = fitted({
      reuse: row.revision.reuse,
      state,
      temporary: temporary_uses.map(use => ({
        reason: use.reason,
        fasteners_then: stateFrom(procedure, records, leavings, use).fasteners.map(({ fastener }) => fastener),
      })),
      parts: ownParts(id),
      inspections,
    })
    return {
      ...{ row, procedure, records, sign_offs, leavings, inspections, temporary_uses, state, fitted: fasteners },
      left: leavings.findLast(leaving => leaving.resumption === null) ?? null,
      signed: fasteners.faults.length === 0 && isSigned(state, row.revision.severity, sign_offs, records),
    }
  })
}

/** The rows of each joint, in the order in which they came. */
function ofEach<T extends { joint_id: string | null }>(rows: T[]): (jointId: string) => T[] {
  const groups = new Map<string | null, T[]>()
  for (const row of rows) {
    const group = groups.get(row.joint_id)
    if (group === undefined) groups.set(row.joint_id, [row])
    else group.push(row)
  }
  return jointId => groups.get(jointId) ?? []
}

export function loadJoint(ctx: Context, jointId: string): LoadedJoint {
  const [joint] = loadJoints(ctx, [jointId])
  if (joint === undefined) throw notFound('joint', jointId)
  return joint
}

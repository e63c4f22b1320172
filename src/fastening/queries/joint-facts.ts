import { and, asc, eq, getTableColumns, isNotNull, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { standing_part_lines } from '../../work-orders/schema.ts'
import { fastener_inspections, joint_leavings, joint_resumptions, temporary_uses } from '../schema.ts'

export type ResumptionRow = typeof joint_resumptions.$inferSelect
/** `resumption` is null while the joint stands left. */
export type LeavingRow = typeof joint_leavings.$inferSelect & { resumption: ResumptionRow | null }
export type InspectionRow = typeof fastener_inspections.$inferSelect
export type TemporaryUseRow = typeof temporary_uses.$inferSelect
export interface FittedPartRow {
  id: string
  created_at: number
  joint_id: string | null
  quantity: number
  batch: string | null
  condition: typeof standing_part_lines.$inferSelect.condition
}

function leavings(read: Read) {
  return read
    .select({ ...getTableColumns(joint_leavings), resumption: getTableColumns(joint_resumptions) })
    .from(joint_leavings)
    .leftJoin(joint_resumptions, eq(joint_resumptions.leaving_id, joint_leavings.id))
}

const leavingsOfJoints = hot((read: Read) =>
  leavings(read)
    .where(isAmong(joint_leavings.joint_id, 'jointIds'))
    .orderBy(asc(joint_leavings.created_at), asc(joint_leavings.id))
    .prepare(),
)

/** In order of recording, like the lists below. */
export function leavingsOf(read: Read, jointIds: string[]): LeavingRow[] {
  return leavingsOfJoints(read).all({ jointIds: idList(jointIds) })
}

const leavingOfId = hot((read: Read) =>
  leavings(read)
    .where(eq(joint_leavings.id, sql.placeholder('id')))
    .prepare(),
)

export function leavingRow(read: Read, id: string): LeavingRow | undefined {
  return leavingOfId(read).get({ id })
}

const inspectionsOfJoints = hot((read: Read) =>
  read
    .select()
    .from(fastener_inspections)
    .where(isAmong(fastener_inspections.joint_id, 'jointIds'))
    .orderBy(asc(fastener_inspections.created_at), asc(fastener_inspections.id))
    .prepare(),
)

export function inspectionsOf(read: Read, jointIds: string[]): InspectionRow[] {
  return inspectionsOfJoints(read).all({ jointIds: idList(jointIds) })
}

const usesOfJoints = hot((read: Read) =>
  read
    .select()
    .from(temporary_uses)
    .where(isAmong(temporary_uses.joint_id, 'jointIds'))
    .orderBy(asc(temporary_uses.created_at), asc(temporary_uses.id))
    .prepare(),
)

export function temporaryUsesOf(read: Read, jointIds: string[]): TemporaryUseRow[] {
  return usesOfJoints(read).all({ jointIds: idList(jointIds) })
}

const partsOfJobs = hot((read: Read) =>
  read
    .select({
      id: standing_part_lines.id,
      created_at: standing_part_lines.created_at,
      joint_id: standing_part_lines.joint_id,
      quantity: standing_part_lines.quantity,
      batch: standing_part_lines.batch,
      condition: standing_part_lines.condition,
    })
    .from(standing_part_lines)
    .where(and(isAmong(standing_part_lines.job_id, 'jobIds'), isNotNull(standing_part_lines.joint_id)))
    .prepare(),
)

/** What was issued to joints of these jobs; a line names a joint of its own job. */
export function fittedPartsOf(read: Read, jobIds: string[]): FittedPartRow[] {
  return partsOfJobs(read).all({ jobIds: idList(jobIds) })
}

export const insertLeaving = hotInsert(joint_leavings)
export const insertResumption = hotInsert(joint_resumptions)
export const insertInspection = hotInsert(fastener_inspections)
export const insertTemporaryUse = hotInsert(temporary_uses)

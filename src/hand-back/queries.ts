import { inArray } from 'drizzle-orm'
import { torque_records } from '../fastening/schema.ts'
import type { Read } from '../platform/database/types.ts'

/** Which of these joints have any torque record: they were begun. */
export function findBegunJoints(read: Read, jointIds: string[]): Set<string> {
  const rows = read
    .selectDistinct({ joint_id: torque_records.joint_id })
    .from(torque_records)
    .where(inArray(torque_records.joint_id, jointIds))
    .all()
  return new Set(rows.map(row => row.joint_id))
}

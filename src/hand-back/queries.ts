import { torque_records } from '../fastening/schema.ts'
import { hot, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'

const jointsWithRecords = hot((read: Read) =>
  read
    .selectDistinct({ joint_id: torque_records.joint_id })
    .from(torque_records)
    .where(isAmong(torque_records.joint_id, 'jointIds'))
    .prepare(),
)

/** Which of these joints have any torque record: they were begun. */
export function findBegunJoints(read: Read, jointIds: string[]): Set<string> {
  const rows = jointsWithRecords(read).all({ jointIds: idList(jointIds) })
  return new Set(rows.map(row => row.joint_id))
}

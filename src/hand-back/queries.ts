import { max } from 'drizzle-orm'
import { sign_offs } from '../fastening/schema.ts'
import { hot, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'

const newestSignOffs = hot((read: Read) =>
  read
    .select({ joint_id: sign_offs.joint_id, id: max(sign_offs.id) })
    .from(sign_offs)
    .where(isAmong(sign_offs.joint_id, 'jointIds'))
    .groupBy(sign_offs.joint_id)
    .prepare(),
)

/** The id of the newest signature on each of these joints that has one; ids grow with time. */
export function findNewestSignOffs(read: Read, jointIds: string[]): Map<string, string> {
  const rows = newestSignOffs(read).all({ jointIds: idList(jointIds) })
  return new Map(rows.flatMap(({ joint_id, id }) => (id === null ? [] : [[joint_id, id] as const])))
}

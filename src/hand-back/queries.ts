import { and, asc, eq, isNull, max, sql } from 'drizzle-orm'
import { sign_offs } from '../fastening/schema.ts'
import { hot, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import { jobs, tool_removals, tools_in } from '../work-orders/schema.ts'

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

const stillIn = hot((read: Read) =>
  read
    .select({ tool: tools_in.tool, count: tools_in.count, at: tools_in.at })
    .from(tools_in)
    .innerJoin(jobs, eq(jobs.id, tools_in.job_id))
    .leftJoin(tool_removals, eq(tool_removals.tool_in_id, tools_in.id))
    .where(and(eq(jobs.work_order_id, sql.placeholder('orderId')), isNull(tool_removals.id)))
    .orderBy(asc(tools_in.id))
    .prepare(),
)

/** The tools that are in the vehicle of an order now. */
export function findToolsStillIn(read: Read, orderId: string): { tool: string; count: number; at: number }[] {
  return stillIn(read).all({ orderId })
}

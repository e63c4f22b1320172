import { sql } from 'drizzle-orm'
import { hot } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { torque_records } from '../schema.ts'

/** A wrench and a gauge never share an id, so one query serves both. */
const isUsedOn = sql`(${torque_records.wrench_id} = ${sql.placeholder('toolId')} or ${torque_records.gauge_id} = ${sql.placeholder('toolId')})`

const usesOfTool = hot((read: Read) =>
  read
    .select({ joint_id: torque_records.joint_id, made_at: torque_records.made_at })
    .from(torque_records)
    .where(isUsedOn)
    .orderBy(torque_records.made_at)
    .prepare(),
)

/** Each reading or setting of a wrench or gauge, oldest first. */
export function usesOf(read: Read, toolId: string): { joint_id: string; made_at: number }[] {
  return usesOfTool(read).all({ toolId })
}

import { and, asc, count, eq, gte, sql } from 'drizzle-orm'
import { procedure_revisions, procedures } from '../catalogue/schema.ts'
import { hot, hotInsert, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import { hand_backs, job_joints, jobs, work_orders } from '../work-orders/schema.ts'
import { sign_offs, torque_records } from './schema.ts'

export type TorqueRecordRow = typeof torque_records.$inferSelect
export type SignOffRow = typeof sign_offs.$inferSelect

const jointsOfIds = hot((read: Read) =>
  read
    .select({
      joint: job_joints,
      revision: procedure_revisions,
      procedure_name: procedures.name,
      job: jobs,
      order_number: work_orders.number,
      vehicle_id: work_orders.vehicle_id,
      handed_back_at: hand_backs.at,
    })
    .from(job_joints)
    .innerJoin(procedure_revisions, eq(procedure_revisions.id, job_joints.procedure_revision_id))
    .innerJoin(procedures, eq(procedures.id, procedure_revisions.procedure_id))
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .innerJoin(work_orders, eq(work_orders.id, jobs.work_order_id))
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .where(isAmong(job_joints.id, 'jointIds'))
    .prepare(),
)

/** A joint with what it is judged by: its pinned procedure revision, and where it hangs. */
export function jointRows(read: Read, jointIds: string[]) {
  return jointsOfIds(read).all({ jointIds: idList(jointIds) })
}
export type JointRow = ReturnType<typeof jointRows>[number]

const recordsOfJoints = hot((read: Read) =>
  read
    .select()
    .from(torque_records)
    .where(isAmong(torque_records.joint_id, 'jointIds'))
    .orderBy(asc(torque_records.created_at), asc(torque_records.id))
    .prepare(),
)

/** In order of recording. */
export function torqueRecordsOf(read: Read, jointIds: string[]): TorqueRecordRow[] {
  return recordsOfJoints(read).all({ jointIds: idList(jointIds) })
}

const signOffsOfJoints = hot((read: Read) =>
  read
    .select()
    .from(sign_offs)
    .where(isAmong(sign_offs.joint_id, 'jointIds'))
    .orderBy(asc(sign_offs.created_at), asc(sign_offs.id))
    .prepare(),
)

export function signOffsOf(read: Read, jointIds: string[]): SignOffRow[] {
  return signOffsOfJoints(read).all({ jointIds: idList(jointIds) })
}

const usesOfWrench = hot((read: Read) =>
  read
    .select({ uses: count() })
    .from(torque_records)
    .where(
      and(
        eq(torque_records.wrench_id, sql.placeholder('wrenchId')),
        gte(torque_records.made_at, sql.placeholder('sinceMs')),
      ),
    )
    .prepare(),
)

/** How often a wrench was used since an instant: its cycles. */
export function wrenchUses(read: Read, wrenchId: string, sinceMs: number): number {
  return usesOfWrench(read).get({ wrenchId, sinceMs })?.uses ?? 0
}

const recordedJobs = hot((read: Read) =>
  read
    .selectDistinct({ job_id: job_joints.job_id })
    .from(torque_records)
    .innerJoin(job_joints, eq(job_joints.id, torque_records.joint_id))
    .where(isAmong(job_joints.job_id, 'jobIds'))
    .prepare(),
)

/** Which of these jobs have anything recorded on any joint. */
export function jobsWithRecords(read: Read, jobIds: string[]): Set<string> {
  const rows = recordedJobs(read).all({ jobIds: idList(jobIds) })
  return new Set(rows.map(row => row.job_id))
}

export const insertTorqueRecord = hotInsert(torque_records)

export const insertSignOff = hotInsert(sign_offs)

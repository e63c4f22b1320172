import { and, asc, count, eq, gte, type SQL, sql } from 'drizzle-orm'
import { procedure_revisions, procedures } from '../catalogue/schema.ts'
import { hot, hotInsert, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import { calibrations, withdrawals, wrenches } from '../tools/schema.ts'
import { hand_backs, job_joints, jobs, work_orders } from '../work-orders/schema.ts'
import { doubt_settlements, sign_offs, torque_records } from './schema.ts'

export type TorqueRecordRow = typeof torque_records.$inferSelect
export type SignOffRow = typeof sign_offs.$inferSelect
export type DoubtSettlementRow = typeof doubt_settlements.$inferSelect

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

export const insertDoubtSettlement = hotInsert(doubt_settlements)

const allSettlements = hot((read: Read) => read.select().from(doubt_settlements).prepare())

export function settlementsOf(read: Read): DoubtSettlementRow[] {
  return allSettlements(read).all()
}

/** Why a wrench puts joints in doubt: found outside at a calibration, or out of use since some time. Days are calendar days. */
export interface WrenchCause {
  cause_id: string
  wrench_id: string
  wrench_name: string
  on: string
  reason: string | null
  last_known_good: string | null
}

/** The newest good calibration of the same wrench up to a day: it was last known good then. */
const lastGood = (wrenchId: unknown, upTo: unknown) => sql<
  string | null
>`(select max(good.made_on) from calibrations good
  where good.wrench_id = ${wrenchId} and good.found = 'good' and good.made_on <= ${upTo})`

export function wrenchCauses(read: Read): WrenchCause[] {
  const outside = read
    .select({
      cause_id: calibrations.id,
      wrench_id: wrenches.id,
      wrench_name: wrenches.name,
      on: calibrations.made_on,
      reason: sql<string | null>`null`,
      last_known_good: lastGood(wrenches.id, calibrations.made_on),
    })
    .from(calibrations)
    .innerJoin(wrenches, eq(wrenches.id, calibrations.wrench_id))
    .where(eq(calibrations.found, 'outside'))
    .all()
  const withdrawnOn = sql<string>`date(${withdrawals.at} / 1000, 'unixepoch')`
  const withdrawn = read
    .select({
      cause_id: withdrawals.id,
      wrench_id: wrenches.id,
      wrench_name: wrenches.name,
      on: withdrawnOn,
      reason: withdrawals.reason,
      last_known_good: lastGood(wrenches.id, withdrawnOn),
    })
    .from(withdrawals)
    .innerJoin(wrenches, eq(wrenches.id, withdrawals.wrench_id))
    .all()
  return [...outside, ...withdrawn]
}

/** Joints with a standing record (one that nothing has superseded) that meets the condition; `since` is the first of them. */
function touchedJoints(read: Read, condition: SQL) {
  return read
    .select({
      joint_id: torque_records.joint_id,
      joint_name: job_joints.name,
      order_number: work_orders.number,
      vehicle_id: work_orders.vehicle_id,
      severity: procedure_revisions.severity,
      since: sql<number>`min(${torque_records.made_at})`,
      has_left: sql<number>`max(${hand_backs.at} is not null)`,
    })
    .from(torque_records)
    .innerJoin(job_joints, eq(job_joints.id, torque_records.joint_id))
    .innerJoin(procedure_revisions, eq(procedure_revisions.id, job_joints.procedure_revision_id))
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .innerJoin(work_orders, eq(work_orders.id, jobs.work_order_id))
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .where(
      and(
        condition,
        sql`not exists (select 1 from torque_records later where later.supersedes_id = ${torque_records.id})`,
      ),
    )
    .groupBy(torque_records.joint_id)
    .all()
}
export type TouchedJoint = ReturnType<typeof touchedJoints>[number]

/** Joints that the wrench touched between its last known good day and the day of the cause, both included. */
export function jointsTouchedByWrench(read: Read, cause: WrenchCause): TouchedJoint[] {
  const madeOn = sql`date(${torque_records.made_at} / 1000, 'unixepoch')`
  return touchedJoints(
    read,
    sql`${torque_records.wrench_id} = ${cause.wrench_id} and ${madeOn} between ${cause.last_known_good ?? '0000-01-01'} and ${cause.on}`,
  )
}

/** Records that put another right after the vehicle had left. */
export function correctionsAfterHandBack(read: Read): { cause_id: string; joint_id: string; reason: string | null }[] {
  return read
    .select({ cause_id: torque_records.id, joint_id: torque_records.joint_id, reason: torque_records.reason })
    .from(torque_records)
    .innerJoin(job_joints, eq(job_joints.id, torque_records.joint_id))
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .innerJoin(hand_backs, eq(hand_backs.work_order_id, jobs.work_order_id))
    .where(and(sql`${torque_records.supersedes_id} is not null`, sql`${torque_records.created_at} > ${hand_backs.at}`))
    .all()
}

export function jointsTouchedByRecord(read: Read, recordId: string): TouchedJoint[] {
  return touchedJoints(read, sql`${torque_records.id} = ${recordId}`)
}

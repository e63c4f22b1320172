import { and, asc, count, eq, isNull, sql } from 'drizzle-orm'
import { procedure_revisions } from '../../catalogue/schema.ts'
import { hot } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { hand_backs, job_joints, job_voidings, jobs, work_orders } from '../schema.ts'

/** Joints written by each revision of a procedure, without those of voided jobs; `gone`: on vehicles that have left. */
export function findJointsMade(read: Read, procedureId: string) {
  return read
    .select({
      revision_id: procedure_revisions.id,
      joints: count(),
      gone: sql<number>`count(${hand_backs.id})`,
    })
    .from(job_joints)
    .innerJoin(procedure_revisions, eq(procedure_revisions.id, job_joints.procedure_revision_id))
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .leftJoin(job_voidings, eq(job_voidings.job_id, jobs.id))
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, jobs.work_order_id))
    .where(and(eq(procedure_revisions.procedure_id, procedureId), isNull(job_voidings.id)))
    .groupBy(procedure_revisions.id)
    .all()
}

const jointsOfVehicle = hot((read: Read) =>
  read
    .select({ job_id: jobs.id, id: job_joints.id, name: job_joints.name })
    .from(work_orders)
    .innerJoin(jobs, eq(jobs.work_order_id, work_orders.id))
    .innerJoin(job_joints, eq(job_joints.job_id, jobs.id))
    .leftJoin(job_voidings, eq(job_voidings.job_id, jobs.id))
    .where(and(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')), isNull(job_voidings.id)))
    .orderBy(asc(job_joints.id))
    .prepare(),
)

/** Every joint of a vehicle's jobs, without those of voided jobs, in the order in which they were planned. */
export function findJointsOfVehicle(read: Read, vehicleId: string) {
  return jointsOfVehicle(read).all({ vehicleId })
}

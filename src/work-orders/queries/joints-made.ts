import { and, count, eq, isNull, sql } from 'drizzle-orm'
import { procedure_revisions } from '../../catalogue/schema.ts'
import type { Read } from '../../platform/database/types.ts'
import { hand_backs, job_joints, job_voidings, jobs } from '../schema.ts'

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

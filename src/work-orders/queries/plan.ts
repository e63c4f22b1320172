import { asc, eq, getTableColumns } from 'drizzle-orm'
import { components, procedure_revisions } from '../../catalogue/schema.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { job_final_checks, job_joints, job_looks, job_steps, jobs } from '../schema.ts'

export type JobRow = typeof jobs.$inferSelect
export type JobStepRow = typeof job_steps.$inferSelect
export type JobFinalCheckRow = typeof job_final_checks.$inferSelect
/** With the procedure and revision number that its pinned revision has. */
export type JobJointRow = typeof job_joints.$inferSelect & { procedure_id: string; revision: number }
/** With the component's name. */
export type JobLookRow = typeof job_looks.$inferSelect & { component: string }

/** Everything that a job's plan consists of, as it is written when the job is added. */
export interface NewPlan {
  steps: JobStepRow[]
  joints: (typeof job_joints.$inferSelect)[]
  looks: (typeof job_looks.$inferSelect)[]
  final_checks: JobFinalCheckRow[]
}

export function insertJob(tx: Tx, job: JobRow, plan: NewPlan): void {
  tx.insert(jobs).values(job).run()
  for (const row of plan.steps) tx.insert(job_steps).values(row).run()
  for (const row of plan.joints) tx.insert(job_joints).values(row).run()
  for (const row of plan.looks) tx.insert(job_looks).values(row).run()
  for (const row of plan.final_checks) tx.insert(job_final_checks).values(row).run()
}

export function findJob(read: Read, id: string): JobRow | undefined {
  return read.select().from(jobs).where(eq(jobs.id, id)).get()
}

/** In the order in which they were added; so are the parts of their plans below. */
export function findJobsOfOrder(read: Read, orderId: string): JobRow[] {
  return read.select().from(jobs).where(eq(jobs.work_order_id, orderId)).orderBy(asc(jobs.id)).all()
}

export function findSteps(read: Read, orderId: string): JobStepRow[] {
  return read
    .select(getTableColumns(job_steps))
    .from(job_steps)
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .orderBy(asc(job_steps.id))
    .all()
}

function joints(read: Read) {
  return read
    .select({
      ...getTableColumns(job_joints),
      procedure_id: procedure_revisions.procedure_id,
      revision: procedure_revisions.revision,
    })
    .from(job_joints)
    .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
    .innerJoin(procedure_revisions, eq(procedure_revisions.id, job_joints.procedure_revision_id))
}

export function findJoints(read: Read, orderId: string): JobJointRow[] {
  return joints(read).where(eq(jobs.work_order_id, orderId)).orderBy(asc(job_joints.id)).all()
}

export function findJoint(read: Read, id: string): JobJointRow | undefined {
  return joints(read).where(eq(job_joints.id, id)).get()
}

function looks(read: Read) {
  return read
    .select({ ...getTableColumns(job_looks), component: components.name })
    .from(job_looks)
    .innerJoin(jobs, eq(jobs.id, job_looks.job_id))
    .innerJoin(components, eq(components.id, job_looks.component_id))
}

export function findLooks(read: Read, orderId: string): JobLookRow[] {
  return looks(read).where(eq(jobs.work_order_id, orderId)).orderBy(asc(job_looks.id)).all()
}

export function findLook(read: Read, id: string): JobLookRow | undefined {
  return looks(read).where(eq(job_looks.id, id)).get()
}

export function findFinalChecks(read: Read, orderId: string): JobFinalCheckRow[] {
  return read
    .select(getTableColumns(job_final_checks))
    .from(job_final_checks)
    .innerJoin(jobs, eq(jobs.id, job_final_checks.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .orderBy(asc(job_final_checks.id))
    .all()
}

export function findFinalCheck(read: Read, id: string): JobFinalCheckRow | undefined {
  return read.select().from(job_final_checks).where(eq(job_final_checks.id, id)).get()
}

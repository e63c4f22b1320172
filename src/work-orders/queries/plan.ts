import { asc, eq, getTableColumns, sql } from 'drizzle-orm'
import { components, procedure_revisions } from '../../catalogue/schema.ts'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import {
  job_final_checks,
  job_joints,
  job_looks,
  job_marks,
  job_steps,
  job_tools,
  jobs,
  tool_omissions,
} from '../schema.ts'

export type JobRow = typeof jobs.$inferSelect
export type JobStepRow = typeof job_steps.$inferSelect
export type JobFinalCheckRow = typeof job_final_checks.$inferSelect
export type JobMarkRow = typeof job_marks.$inferSelect
/** `omission` is null while nobody has said that it was not used. */
export type JobToolRow = typeof job_tools.$inferSelect & { omission: typeof tool_omissions.$inferSelect | null }
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
  marks: JobMarkRow[]
  tools: (typeof job_tools.$inferSelect)[]
}

const insertJobRow = hotInsert(jobs)
const insertStep = hotInsert(job_steps)
const insertJoint = hotInsert(job_joints)
const insertLook = hotInsert(job_looks)
const insertFinalCheck = hotInsert(job_final_checks)
const insertMark = hotInsert(job_marks)
const insertTool = hotInsert(job_tools)
export const insertToolOmission = hotInsert(tool_omissions)

export function insertJob(tx: Tx, job: JobRow, plan: NewPlan): void {
  insertJobRow(tx, job)
  for (const row of plan.steps) insertStep(tx, row)
  for (const row of plan.joints) insertJoint(tx, row)
  for (const row of plan.looks) insertLook(tx, row)
  for (const row of plan.final_checks) insertFinalCheck(tx, row)
  for (const row of plan.marks) insertMark(tx, row)
  for (const row of plan.tools) insertTool(tx, row)
}

const jobOfId = hot((read: Read) =>
  read
    .select()
    .from(jobs)
    .where(eq(jobs.id, sql.placeholder('id')))
    .prepare(),
)

export function findJob(read: Read, id: string): JobRow | undefined {
  return jobOfId(read).get({ id })
}

const jobsOfOrder = hot((read: Read) =>
  read
    .select()
    .from(jobs)
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(jobs.id))
    .prepare(),
)

/** In the order in which they were added; so are the parts of their plans below. */
export function findJobsOfOrder(read: Read, orderId: string): JobRow[] {
  return jobsOfOrder(read).all({ orderId })
}

const stepsOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(job_steps))
    .from(job_steps)
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_steps.id))
    .prepare(),
)

export function findSteps(read: Read, orderId: string): JobStepRow[] {
  return stepsOfOrder(read).all({ orderId })
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

const jointsOfOrder = hot((read: Read) =>
  joints(read)
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_joints.id))
    .prepare(),
)

export function findJoints(read: Read, orderId: string): JobJointRow[] {
  return jointsOfOrder(read).all({ orderId })
}

const jointOfId = hot((read: Read) =>
  joints(read)
    .where(eq(job_joints.id, sql.placeholder('id')))
    .prepare(),
)

export function findJoint(read: Read, id: string): JobJointRow | undefined {
  return jointOfId(read).get({ id })
}

function looks(read: Read) {
  return read
    .select({ ...getTableColumns(job_looks), component: components.name })
    .from(job_looks)
    .innerJoin(jobs, eq(jobs.id, job_looks.job_id))
    .innerJoin(components, eq(components.id, job_looks.component_id))
}

const looksOfOrder = hot((read: Read) =>
  looks(read)
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_looks.id))
    .prepare(),
)

export function findLooks(read: Read, orderId: string): JobLookRow[] {
  return looksOfOrder(read).all({ orderId })
}

const lookOfId = hot((read: Read) =>
  looks(read)
    .where(eq(job_looks.id, sql.placeholder('id')))
    .prepare(),
)

export function findLook(read: Read, id: string): JobLookRow | undefined {
  return lookOfId(read).get({ id })
}

const finalChecksOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(job_final_checks))
    .from(job_final_checks)
    .innerJoin(jobs, eq(jobs.id, job_final_checks.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_final_checks.id))
    .prepare(),
)

export function findFinalChecks(read: Read, orderId: string): JobFinalCheckRow[] {
  return finalChecksOfOrder(read).all({ orderId })
}

const finalCheckOfId = hot((read: Read) =>
  read
    .select()
    .from(job_final_checks)
    .where(eq(job_final_checks.id, sql.placeholder('id')))
    .prepare(),
)

export function findFinalCheck(read: Read, id: string): JobFinalCheckRow | undefined {
  return finalCheckOfId(read).get({ id })
}

const marksOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(job_marks))
    .from(job_marks)
    .innerJoin(jobs, eq(jobs.id, job_marks.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_marks.id))
    .prepare(),
)

export function findMarks(read: Read, orderId: string): JobMarkRow[] {
  return marksOfOrder(read).all({ orderId })
}

const markOfId = hot((read: Read) =>
  read
    .select()
    .from(job_marks)
    .where(eq(job_marks.id, sql.placeholder('id')))
    .prepare(),
)

export function findMark(read: Read, id: string): JobMarkRow | undefined {
  return markOfId(read).get({ id })
}

const toolsOfOrder = hot((read: Read) =>
  read
    .select({ ...getTableColumns(job_tools), omission: tool_omissions })
    .from(job_tools)
    .leftJoin(tool_omissions, eq(tool_omissions.job_tool_id, job_tools.id))
    .innerJoin(jobs, eq(jobs.id, job_tools.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(job_tools.id))
    .prepare(),
)

/** The tools that the plans say will go in. */
export function findPlannedTools(read: Read, orderId: string): JobToolRow[] {
  return toolsOfOrder(read).all({ orderId })
}

import { and, asc, desc, eq, gt, inArray, or, sql } from 'drizzle-orm'
import { findings } from '../findings/schema.ts'
import { hot, hotInsert, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import { job_final_checks, job_looks, job_marks, jobs, work_orders } from '../work-orders/schema.ts'
import { attachments } from './schema.ts'

export type AttachmentRow = typeof attachments.$inferSelect

/** The columns of which exactly one says what an attachment is of. */
const SUBJECT_COLUMNS = {
  mark_id: attachments.mark_id,
  look_id: attachments.look_id,
  finding_id: attachments.finding_id,
  final_check_id: attachments.final_check_id,
  work_order_id: attachments.work_order_id,
  job_id: attachments.job_id,
}
type SubjectColumn = keyof typeof SUBJECT_COLUMNS
const COLUMNS = Object.entries(SUBJECT_COLUMNS)

export const insertAttachment = hotInsert(attachments)

const ofId = hot((read: Read) =>
  read
    .select()
    .from(attachments)
    .where(eq(attachments.id, sql.placeholder('id')))
    .prepare(),
)

export function attachmentById(read: Read, id: string): AttachmentRow | undefined {
  return ofId(read).get({ id })
}

const ofSubjects = hot((read: Read) =>
  read
    .select()
    .from(attachments)
    .where(or(...COLUMNS.map(([name, column]) => isAmong(column, name))))
    .orderBy(asc(attachments.created_at), asc(attachments.id))
    .prepare(),
)

/** Those of any of the subjects, by column, oldest first. */
export function attachmentsOfSubjects(
  read: Read,
  ids: Partial<Record<SubjectColumn, readonly string[]>>,
): AttachmentRow[] {
  return ofSubjects(read).all(
    Object.fromEntries(COLUMNS.map(([name]) => [name, idList(ids[name as SubjectColumn] ?? [])])),
  )
}

/** A page of them, oldest first, after the id that the page before ended with; `of` narrows it to subjects. */
export function attachmentRows(
  read: Read,
  of: Partial<Record<SubjectColumn, string | undefined>>,
  limit: number,
  after: string | null,
): AttachmentRow[] {
  const wanted = COLUMNS.map(([name, column]) => {
    const id = of[name as SubjectColumn]
    return id === undefined ? undefined : eq(column, id)
  })
  return read
    .select()
    .from(attachments)
    .where(and(...wanted, after === null ? undefined : gt(attachments.id, after)))
    .orderBy(asc(attachments.id))
    .limit(limit)
    .all()
}

const ofVehicle = hot((read: Read) => {
  const stays = read
    .select({ id: work_orders.id })
    .from(work_orders)
    .where(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')))
  const onJobs = read.select({ id: jobs.id }).from(jobs).where(inArray(jobs.work_order_id, stays))
  const ofPlan = (things: typeof job_marks | typeof job_looks | typeof job_final_checks) =>
    read.select({ id: things.id }).from(things).where(inArray(things.job_id, onJobs))
  const found = read
    .select({ id: findings.id })
    .from(findings)
    .where(eq(findings.vehicle_id, sql.placeholder('vehicleId')))
  return read
    .select()
    .from(attachments)
    .where(
      or(
        inArray(attachments.work_order_id, stays),
        inArray(attachments.job_id, onJobs),
        inArray(attachments.mark_id, ofPlan(job_marks)),
        inArray(attachments.look_id, ofPlan(job_looks)),
        inArray(attachments.final_check_id, ofPlan(job_final_checks)),
        inArray(attachments.finding_id, found),
      ),
    )
    .orderBy(desc(attachments.created_at), desc(attachments.id))
    .prepare()
})

/** Those of a vehicle's stays and of everything on their jobs, and those of its findings; newest first. */
export function attachmentsOfVehicleRows(read: Read, vehicleId: string): AttachmentRow[] {
  return ofVehicle(read).all({ vehicleId })
}

const markOfId = hot((read: Read) =>
  read
    .select({ text: job_marks.text, job_id: job_marks.job_id })
    .from(job_marks)
    .where(eq(job_marks.id, sql.placeholder('id')))
    .prepare(),
)

/** What is to be marked, and on which job. */
export function markById(read: Read, id: string): { text: string; job_id: string } | undefined {
  return markOfId(read).get({ id })
}

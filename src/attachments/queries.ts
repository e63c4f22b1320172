import { and, asc, eq, gt, or, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import { job_marks } from '../work-orders/schema.ts'
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

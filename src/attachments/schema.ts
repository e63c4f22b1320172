import { sql } from 'drizzle-orm'
import { index, integer, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { ATTACHMENT_KINDS, ATTACHMENT_MOMENTS, MEDIA_TYPES } from '../core/vocabulary.ts'
import { findings } from '../findings/schema.ts'
import { isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { job_final_checks, job_looks, job_marks, jobs, work_orders } from '../work-orders/schema.ts'

/**
 * A photo, a sound or a short clip of one thing. The bytes lie in the folder beside the database, under their SHA-256: two
 * rows may name the same file.
 */
export const attachments = sqliteTable(
  'attachments',
  {
    ...record(),
    sha256: text('sha256').notNull(),
    kind: text('kind', { enum: ATTACHMENT_KINDS }).notNull(),
    media_type: text('media_type', { enum: MEDIA_TYPES }).notNull(),
    bytes: integer('bytes').notNull(),
    file_name: text('file_name'),
    moment: text('moment', { enum: ATTACHMENT_MOMENTS }),
    why: text('why'),
    mark_id: text('mark_id').references(() => job_marks.id),
    look_id: text('look_id').references(() => job_looks.id),
    finding_id: text('finding_id').references(() => findings.id),
    final_check_id: text('final_check_id').references(() => job_final_checks.id),
    work_order_id: text('work_order_id').references(() => work_orders.id),
    job_id: text('job_id').references(() => jobs.id),
  },
  table => [
    oneOf(table.kind, ATTACHMENT_KINDS),
    oneOf(table.media_type, MEDIA_TYPES),
    oneOf(table.moment, ATTACHMENT_MOMENTS),
    ...notEmpty(table.file_name, table.why),
    ...isSafe(table.bytes),
    must('attachments_bytes', sql`${table.bytes} > 0`),
    must('attachments_sha256', sql`length(${table.sha256}) = 64 and ${table.sha256} not glob '*[^0-9a-f]*'`),
    must(
      'attachments_one_subject',
      sql`(${table.mark_id} is not null) + (${table.look_id} is not null) + (${table.finding_id} is not null)
        + (${table.final_check_id} is not null) + (${table.work_order_id} is not null) + (${table.job_id} is not null) = 1`,
    ),
    index('attachments_mark').on(table.mark_id),
    index('attachments_look').on(table.look_id),
    index('attachments_finding').on(table.finding_id),
    index('attachments_final_check').on(table.final_check_id),
    index('attachments_work_order').on(table.work_order_id),
    index('attachments_job').on(table.job_id),
  ],
)

import { z } from 'zod'
import { ATTACHMENT_KINDS, ATTACHMENT_MOMENTS, MEDIA_TYPES } from '../core/vocabulary.ts'
import { Id, Line, Name, RecordFields } from '../platform/contract.ts'

/** What an attachment is of: a position mark, a look, a finding, a final check, the arrival of a vehicle, or a job itself. */
export const SUBJECT_KEYS = ['mark_id', 'look_id', 'finding_id', 'final_check_id', 'work_order_id', 'job_id'] as const
export type SubjectKey = (typeof SUBJECT_KEYS)[number]

export const AttachmentSubject = z
  .union([
    z.strictObject({ mark_id: Id }),
    z.strictObject({ look_id: Id }),
    z.strictObject({ finding_id: Id }),
    z.strictObject({ final_check_id: Id }),
    z.strictObject({ work_order_id: Id }),
    z.strictObject({ job_id: Id }),
  ])
  .meta({ id: 'AttachmentSubject' })
export type AttachmentSubject = z.infer<typeof AttachmentSubject>

const attachmentFields = {
  subject: AttachmentSubject,
  moment: z.enum(ATTACHMENT_MOMENTS).optional().meta({
    title: 'Before or after the work',
    description: 'Two of a kind are shown side by side',
    classes: 'medium',
  }),
  why: Line.optional().meta({ title: 'What it shows', description: 'And why it was taken, in a few words' }),
}

/** The fields beside the file, which is the part `file` of a multipart body. */
export const AttachmentInput = z.strictObject(attachmentFields).meta({ id: 'AttachmentInput' })
export type AttachmentInput = z.infer<typeof AttachmentInput>

/** `sha256`, `bytes` and `media_type` are of the file as it is kept; a photo is turned upright and made smaller before. */
export const Attachment = z
  .strictObject({
    ...RecordFields,
    ...attachmentFields,
    kind: z.enum(ATTACHMENT_KINDS),
    media_type: z.enum(MEDIA_TYPES),
    bytes: z.int(),
    sha256: z.string(),
    file_name: Name.optional(),
  })
  .meta({ id: 'Attachment' })
export type Attachment = z.infer<typeof Attachment>

/** The attachments of one thing; without any, all of them. */
export const AttachmentsAsked = z.strictObject({
  mark_id: Id.optional(),
  look_id: Id.optional(),
  finding_id: Id.optional(),
  final_check_id: Id.optional(),
  work_order_id: Id.optional(),
  job_id: Id.optional(),
})
export type AttachmentsAsked = z.infer<typeof AttachmentsAsked>

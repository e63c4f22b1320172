import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import type { AttachmentKind, AttachmentMoment } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { keepFile } from '../../platform/files/keep-file.ts'
import { fileName, type Media, readMedia, type SentFile } from '../../platform/files/media.ts'
import { notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import { makeMarkByPicture } from '../../work-orders/index.ts'
import type { Attachment, AttachmentInput, AttachmentSubject, AttachmentsAsked, SubjectKey } from '../contract.ts'
import {
  type AttachmentRow,
  attachmentById,
  attachmentRows,
  attachmentsOfSubjects,
  attachmentsOfVehicleRows,
  insertAttachment,
} from '../queries.ts'
import { keyOf, requireSubject, type SubjectFacts, subjectFacts } from './subjects.ts'

/** A file that lies in the folder of attachments already, and waits for its row. */
export interface KeptFile extends Omit<Media, 'bytes'> {
  sha256: string
  bytes: number
  file_name: string | null
}

/**
 * The slow half of adding one, which must not run inside a transaction: tells what was sent, makes of it what is kept, and
 * writes that to the disk for good, so that no row is ever without its file (desk, technician). Problems: as `readMedia`.
 */
export async function keepSentFile(ctx: Context, file: SentFile, pointer: string): Promise<KeptFile> {
  authorise(ctx, 'desk', 'technician')
  const { bytes, ...media } = await readMedia(file, pointer)
  const sha256 = await keepFile(ctx.store.files, bytes)
  return { ...media, sha256, bytes: bytes.length, file_name: fileName(file.filename) }
}

/** The same for a file of something that must be there: refused before anything is written to the disk. */
export async function keepFileOf(
  ctx: Context,
  subject: AttachmentSubject,
  file: SentFile,
  pointer: string,
): Promise<KeptFile> {
  authorise(ctx, 'desk', 'technician')
  requireSubject(ctx, subject)
  return keepSentFile(ctx, file, pointer)
}

/** The half that writes the row (desk, technician). A picture of a position mark, taken before the work, makes the mark. */
export function addAttachment(ctx: Context, input: AttachmentInput, file: KeptFile): Attachment {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireSubject(ctx, input.subject)
    const { key, id } = keyOf(input.subject)
    const row: AttachmentRow = {
      ...newRecord(ctx),
      ...file,
      moment: input.moment ?? null,
      why: input.why ?? null,
      ...{ mark_id: null, look_id: null, finding_id: null, final_check_id: null, work_order_id: null, job_id: null },
      [key]: id,
    }
    insertAttachment(tx, row)
    recordEvent(ctx, tx, { action: 'attachment.added', table: 'attachments', id: row.id })
    if (key === 'mark_id' && row.kind !== 'sound' && row.moment !== 'after') makeMarkByPicture(ctx, id)
    return toWire(row)
  })
}

/** 404 when there is none. */
export function oneAttachment(ctx: Context, id: string): Attachment {
  const row = attachmentById(ctx.read, id)
  if (row === undefined) throw notFound('attachment', id)
  return toWire(row)
}

/** Oldest first, after the id that the page before ended with. */
export function attachmentsPage(
  ctx: Context,
  asked: AttachmentsAsked,
  limit: number,
  after: string | null,
): Attachment[] {
  return attachmentRows(ctx.read, asked, limit, after).map(toWire)
}

/** An attachment as pages show it: finished words for who and when. */
export interface ShownAttachment {
  id: string
  kind: AttachmentKind
  moment: AttachmentMoment | null
  why: string | null
  at: number
  created_by: string | null
  /** 'Tobin Rask, 4 Nov 2031, 10:35' */
  by: string
}

/** Those of all these things at once, oldest first, by the id of what each is of. What has none is left out. */
export function attachmentsOf(
  ctx: Context,
  ids: Partial<Record<SubjectKey, readonly string[]>>,
): Map<string, ShownAttachment[]> {
  const rows = attachmentsOfSubjects(ctx.read, ids)
  const shown = new Map<string, ShownAttachment[]>()
  if (rows.length === 0) return shown
  const toShow = shownBy(ctx)
  for (const row of rows) {
    const { id } = keyOf(subjectOf(row))
    shown.set(id, [...(shown.get(id) ?? []), toShow(row)])
  }
  return shown
}

/** One of a vehicle's, with what it is of in words, and the page on which that stands. */
export interface AttachmentOfVehicle extends ShownAttachment, SubjectFacts {}

/** The newest `most` of a vehicle's, newest first, and how many there are in all. */
export function attachmentsOfVehicle(
  ctx: Context,
  vehicleId: string,
  most: number,
): { newest: AttachmentOfVehicle[]; count: number } {
  const rows = attachmentsOfVehicleRows(ctx.read, vehicleId)
  if (rows.length === 0) return { newest: [], count: 0 }
  const toShow = shownBy(ctx)
  const newest = rows.slice(0, most).map(row => ({ ...toShow(row), ...subjectFacts(ctx, subjectOf(row)) }))
  return { newest, count: rows.length }
}

function shownBy(ctx: Context): (row: AttachmentRow) => ShownAttachment {
  const people = namesOfPeople(ctx)
  const { time_zone } = settingsOf(ctx)
  return ({ id, kind, moment, why, created_at, created_by }) => {
    const when = `${shortDay(localDateOf(created_at, time_zone))}, ${localTimeOf(created_at, time_zone)}`
    const by = [created_by === null ? undefined : people.get(created_by), when].filter(Boolean).join(', ')
    return { id, kind, moment, why, at: created_at, created_by, by }
  }
}

function subjectOf(row: AttachmentRow): AttachmentSubject {
  const { mark_id, look_id, finding_id, final_check_id, work_order_id, job_id } = row
  return withoutNulls({ mark_id, look_id, finding_id, final_check_id, work_order_id, job_id }) as AttachmentSubject
}

function toWire(row: AttachmentRow): Attachment {
  const { id, created_at, created_by, sha256, kind, media_type, bytes, file_name, moment, why } = row
  return {
    ...{ id, created_by, created_at: toInstant(created_at), subject: subjectOf(row), kind, media_type, bytes, sha256 },
    ...withoutNulls({ file_name, moment, why }),
  }
}

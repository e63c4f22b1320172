import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound, type Problem, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant, withoutNulls } from '../../platform/wire.ts'
import type { JobMark, MarkRecord, MarkRecordInput } from '../contract.ts'
import { findMarkRecords, findUnmadeMarksOfJoint, insertMarkRecord, type MarkRecordRow } from '../queries/bench.ts'
import { findVoiding } from '../queries/doings.ts'
import { findHandBack } from '../queries/orders.ts'
import { findMark, type JobMarkRow } from '../queries/plan.ts'
import { requireJob, requireStandingJob } from './known.ts'
import { jobById } from './plan.ts'

/** Technician. A position mark was made or photographed. 409 `mark-made` the second time: the first one is where it stood. */
export function recordMark(ctx: Context, markId: string, input: MarkRecordInput): MarkRecord {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const mark = requireMark(ctx, markId)
    requireStandingJob(ctx, mark.job_id)
    if (madeRecord(ctx, mark) !== undefined) {
      throw problem('mark-made', { detail: `"${mark.text}" was made before.` })
    }
    const record = newRecord(ctx)
    const row = {
      ...record,
      mark_id: markId,
      at: input.at === undefined ? record.created_at : fromInstant(input.at),
      note: input.note ?? null,
    }
    insertMarkRecord(tx, row)
    recordEvent(ctx, tx, { action: 'mark.made', table: 'jobs', id: mark.job_id })
    return toWire(row)
  })
}

/**
 * A picture of the mark was attached, by whoever: then it is made, by that person and at that time. Nothing happens where it was
 * made before, nor on a job that takes no work any more: that picture shows how it was left.
 */
export function makeMarkByPicture(ctx: Context, markId: string): void {
  write(ctx, tx => {
    const mark = requireMark(ctx, markId)
    const { work_order_id } = requireJob(ctx, mark.job_id)
    const isOver = findVoiding(tx, mark.job_id) !== undefined || findHandBack(tx, work_order_id) !== undefined
    if (isOver || madeRecord(ctx, mark) !== undefined) return
    const record = newRecord(ctx)
    insertMarkRecord(tx, { ...record, mark_id: markId, at: record.created_at, note: null })
    recordEvent(ctx, tx, { action: 'mark.made', table: 'jobs', id: mark.job_id })
  })
}

/** 404 when there is no such mark. */
export function markById(ctx: Context, markId: string): JobMark {
  const { job_id } = requireMark(ctx, markId)
  return jobById(ctx, job_id).marks.find(mark => mark.id === markId)!
}

/** 404 while nobody has made the mark. */
export function recordOfMark(ctx: Context, markId: string): MarkRecord {
  const row = madeRecord(ctx, requireMark(ctx, markId))
  if (row === undefined) throw notFound('record of the mark', markId)
  return toWire(row)
}

/** 409: `detail` says before what they come. */
export function markMissing(detail: string, missing: readonly { text: string; job_id: string }[]): Problem {
  return problem('mark-missing', {
    detail,
    extra: {
      blockers: missing.map(mark => ({
        reason: 'mark_missing',
        sentence: `The mark "${mark.text}" is not made.`,
        href: `/bench/jobs/${mark.job_id}`,
      })),
    },
  })
}

/** The marks that must be made before a joint is touched, and are not. */
export function marksMissingOnJoint(ctx: Context, jointId: string): { id: string; job_id: string; text: string }[] {
  return findUnmadeMarksOfJoint(ctx.read, jointId)
}

function madeRecord(ctx: Context, mark: JobMarkRow): MarkRecordRow | undefined {
  const records = findMarkRecords(ctx.read, requireJob(ctx, mark.job_id).work_order_id)
  return records.find(row => row.mark_id === mark.id)
}

function requireMark(ctx: Context, id: string): JobMarkRow {
  const mark = findMark(ctx.read, id)
  if (mark === undefined) throw notFound('position mark', id)
  return mark
}

function toWire({ note, ...row }: MarkRecordRow): MarkRecord {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at), ...withoutNulls({ note }) }
}

import { partById, refuseBadBatch, supplierById } from '../../parts/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import type { PartLine, PartLineInput } from '../contract.ts'
import { findPartLines, insertPartLine, insertPartLineRemoval, newestPrices } from '../queries/doings.ts'
import { findJoint } from '../queries/plan.ts'
import { partLineToWire } from './job-wire.ts'
import { requireJob, requireStandingJob } from './known.ts'

/** Desk or technician. A part on a job; `joint_id` is a joint of that job. 422 for an unknown part, supplier or joint, 409 `batch-bad`. */
export function addPartLine(ctx: Context, jobId: string, input: PartLineInput): PartLine {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireStandingJob(ctx, jobId)
    const { supplier_id, joint_id } = input
    const { part } = together({
      part: () => known('/part_id', () => partById(ctx, input.part_id)),
      supplier: () => supplier_id !== undefined && known('/supplier_id', () => supplierById(ctx, supplier_id)),
      joint: () => joint_id !== undefined && requireJointOfJob(tx, joint_id, jobId),
    })
    if (input.batch !== undefined) refuseBadBatch(ctx, part, input.batch)
    const row = {
      ...newRecord(ctx),
      ...{ job_id: jobId, part_id: part.id, quantity: input.quantity, condition: input.condition },
      ...{ cost_minor: input.cost_minor, price_minor: input.price_minor },
      ...{ batch: input.batch ?? null, supplier_id: supplier_id ?? null, joint_id: joint_id ?? null },
    }
    insertPartLine(tx, row)
    recordEvent(ctx, tx, { action: 'part-line.added', table: 'part_lines', id: row.id })
    return partLineToWire({ ...row, part_number: part.number, part_name: part.name, removal: null })
  })
}

/**
 * Desk or technician. Takes a part line off again that was written down wrongly, or whose part was not used, with the reason:
 * it stays to be read, and is no more charged, issued or fitted. A joint whose new fasteners it was is unsigned by that; a
 * doubt of its batch stays, since it may have been in. 404 when the job has no such line, 409 `part-line-taken-off` the second
 * time, 409 once the order was handed back.
 */
export function removePartLine(ctx: Context, jobId: string, lineId: string, reason: string): PartLine {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const job = requireStandingJob(ctx, jobId)
    const line = findPartLines(tx, job.work_order_id).find(row => row.id === lineId && row.job_id === jobId)
    if (line === undefined) throw notFound('part line of this job', lineId)
    if (line.removal !== null) {
      throw problem('part-line-taken-off', { detail: `It was taken off before: ${line.removal.reason}` })
    }
    const removal = { ...newRecord(ctx), part_line_id: lineId, reason }
    insertPartLineRemoval(tx, removal)
    recordEvent(ctx, tx, { action: 'part-line.taken-off', table: 'part_line_removals', id: removal.id })
    return partLineToWire({ ...line, removal })
  })
}

/** By part: what it cost and was sold at when it was last put on a job, in minor units. */
export function lastPrices(ctx: Context): Map<string, { cost_minor: number; price_minor: number }> {
  return new Map(newestPrices(ctx.read).map(({ part_id, ...prices }) => [part_id, prices]))
}

function requireJointOfJob(tx: Tx, jointId: string, jobId: string): void {
  if (findJoint(tx, jointId)?.job_id === jobId) return
  throw invalid({ pointer: '/joint_id', detail: `This job has no joint with the id ${jointId}.`, code: 'unknown' })
}

/** In the order in which they were added, those taken off again too. 404 for an unknown job. */
export function partLinesOfJob(ctx: Context, jobId: string): PartLine[] {
  const job = requireJob(ctx, jobId)
  return findPartLines(ctx.read, job.work_order_id)
    .filter(row => row.job_id === jobId)
    .map(partLineToWire)
}

import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { BatchFault, BatchFaultInput } from '../contract/batch-faults.ts'
import type { Part } from '../contract.ts'
import {
  allBatchFaultRows,
  type BatchFaultRow,
  batchFaultRows,
  firstFaultOfBatch,
  insertBatchFault,
} from '../queries/batch-faults.ts'
import { partById } from '../service.ts'

/** Desk or technician: a batch of a part is bad. It puts in doubt every joint that got any of it. 404 for an unknown part. */
export function reportBatchFault(ctx: Context, partId: string, input: BatchFaultInput): BatchFault {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    partById(ctx, partId)
    const row = { ...newRecord(ctx), part_id: partId, batch: input.batch, reason: input.reason }
    insertBatchFault(tx, row)
    recordEvent(ctx, tx, { action: 'batch.found-bad', table: 'batch_faults', id: row.id })
    return toWire(row)
  })
}

/** Oldest first. 404 for an unknown part. */
export function batchFaultsOfPart(ctx: Context, partId: string): BatchFault[] {
  partById(ctx, partId)
  return batchFaultRows(ctx.read, partId).map(toWire)
}

/**
 * 409 `batch-bad` for a part of a batch that was found bad: nobody puts it on a job any more. Says since when, who said so, and
 * what to do.
 */
export function refuseBadBatch(ctx: Context, { id, name }: Pick<Part, 'id' | 'name'>, batch: string): void {
  const fault = firstFaultOfBatch(ctx.read, id, batch)
  if (fault === undefined) return
  const on = longDay(localDateOf(fault.created_at, settingsOf(ctx).time_zone))
  const who = fault.created_by === null ? undefined : namesOfPeople(ctx).get(fault.created_by)
  const by = who === undefined ? '' : ` by ${who}`
  throw problem('batch-bad', {
    detail: `Batch ${fault.batch} of ${name} was found bad on ${on}${by}: ${fault.reason.replace(/[.\s]+$/, '')}. Put it aside and take one of another batch; what is of it in a vehicle already comes out again.`,
    extra: { batch_fault_id: fault.id },
  })
}

interface NamedBatchFault extends BatchFault {
  part_number: string
  part_name: string
}

/** Of every part, the newest first. */
export function allBatchFaults(ctx: Context): NamedBatchFault[] {
  return allBatchFaultRows(ctx.read).map(({ fault, ...part }) => ({ ...toWire(fault), ...part }))
}

function toWire(row: BatchFaultRow): BatchFault {
  return { ...row, created_at: toInstant(row.created_at) }
}

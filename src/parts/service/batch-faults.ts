import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { BatchFault, BatchFaultInput } from '../contract/batch-faults.ts'
import { allBatchFaultRows, type BatchFaultRow, batchFaultRows, insertBatchFault } from '../queries/batch-faults.ts'
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

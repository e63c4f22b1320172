import type { Context } from '../../platform/context.ts'
import type { Tx } from '../../platform/database/types.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant, withoutNulls } from '../../platform/wire.ts'
import type { EngineTurn, EngineTurnInput } from '../contract.ts'
import { type EngineTurnRow, findEngineTurns, insertEngineTurnRow } from '../queries/bench.ts'
import { requireJob, requireStandingJob } from './known.ts'

/** Writes down that the engine was turned; for hand-back, which says whether it may be, and records the event. */
export function insertEngineTurn(ctx: Context, tx: Tx, jobId: string, input: EngineTurnInput): EngineTurn {
  requireStandingJob(ctx, jobId)
  const record = newRecord(ctx)
  const row = {
    ...record,
    job_id: jobId,
    how: input.how,
    at: input.at === undefined ? record.created_at : fromInstant(input.at),
    note: input.note ?? null,
  }
  insertEngineTurnRow(tx, row)
  return toWire(row)
}

/** 404 for an unknown job; oldest first. */
export function engineTurnsOfJob(ctx: Context, jobId: string): EngineTurn[] {
  const { work_order_id } = requireJob(ctx, jobId)
  return findEngineTurns(ctx.read, work_order_id)
    .filter(turn => turn.job_id === jobId)
    .map(toWire)
}

function toWire({ note, ...row }: EngineTurnRow): EngineTurn {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at), ...withoutNulls({ note }) }
}

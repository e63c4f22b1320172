import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import { finalCheckById, lookById, vehicleOfJob } from '../../work-orders/index.ts'
import type { FinalCheckResult, FinalCheckResultInput, LookResult, LookResultInput } from '../contract.ts'
import {
  type FinalCheckResultRow,
  finalCheckResultsOf,
  insertFinalCheckResult,
  insertLookResult,
  type LookResultRow,
  lookResultsOf,
} from '../queries.ts'
import { maySkipLook } from '../rules.ts'
import { requireFindingOn } from './findings.ts'

/**
 * The outcome of a look (T): fine, a finding, or skipped with a reason that stays. One that safety hangs on only the owner
 * may skip. Problems: not-found, role-not-allowed, invalid-input, look-has-result.
 */
export function recordLookResult(ctx: Context, lookId: string, input: LookResultInput): LookResult {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const look = lookById(ctx, lookId)
    refuseAfterHandBack(look)
    const said = [input.fine === true, input.finding_id !== undefined, input.skipped_reason !== undefined].filter(
      Boolean,
    ).length
    if (said !== 1)
      throw invalid({
        pointer: '',
        detail: 'Say one thing: it is fine, the finding that was made, or why nobody looked.',
        code: 'does_not_fit',
      })
    if (input.skipped_reason !== undefined && !maySkipLook(look.severity, ctx.actor?.role ?? 'command line'))
      throw problem('role-not-allowed', { detail: 'Safety hangs on this look: only the owner may leave it out.' })
    if (input.finding_id !== undefined) requireFindingOn(ctx, input.finding_id, vehicleOfJob(ctx, look.job_id))
    if (lookResultsOf(ctx.read, [lookId]).length > 0)
      throw problem('look-has-result', { detail: 'This look has its result already.' })
    const row: LookResultRow = {
      ...newRecord(ctx),
      look_id: lookId,
      fine: input.skipped_reason === undefined ? input.finding_id === undefined : null,
      finding_id: input.finding_id ?? null,
      skipped_reason: input.skipped_reason ?? null,
    }
    insertLookResult(tx, row)
    recordEvent(ctx, tx, { action: 'look.done', table: 'look_results', id: row.id })
    return lookResultToWire(row)
  })
}

/** The result of a final check (T). A check that failed is done again once it is put right: the newest result counts. */
export function recordFinalCheck(ctx: Context, finalCheckId: string, input: FinalCheckResultInput): FinalCheckResult {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const check = finalCheckById(ctx, finalCheckId)
    refuseAfterHandBack(check)
    if (input.fine && input.finding_id !== undefined)
      throw invalid({ pointer: '/finding_id', detail: 'A check that is fine has no finding.', code: 'does_not_fit' })
    if (input.finding_id !== undefined) requireFindingOn(ctx, input.finding_id, vehicleOfJob(ctx, check.job_id))
    const row: FinalCheckResultRow = {
      ...newRecord(ctx),
      final_check_id: finalCheckId,
      fine: input.fine,
      finding_id: input.finding_id ?? null,
    }
    insertFinalCheckResult(tx, row)
    recordEvent(ctx, tx, { action: 'final-check.done', table: 'final_check_results', id: row.id })
    return finalCheckResultToWire(row)
  })
}

export function lookResults(ctx: Context, lookIds: string[]): Map<string, LookResultRow> {
  return new Map(lookResultsOf(ctx.read, lookIds).map(row => [row.look_id, row]))
}

/** The newest result of each check. */
export function finalCheckResults(ctx: Context, finalCheckIds: string[]): Map<string, FinalCheckResultRow> {
  return new Map(finalCheckResultsOf(ctx.read, finalCheckIds).map(row => [row.final_check_id, row]))
}

export function resultOfLook(ctx: Context, lookId: string): LookResult {
  const row = lookResults(ctx, [lookId]).get(lookId)
  if (row === undefined) throw notFound('result of a look', lookId)
  return lookResultToWire(row)
}

export function resultOfFinalCheck(ctx: Context, finalCheckId: string): FinalCheckResult {
  const row = finalCheckResults(ctx, [finalCheckId]).get(finalCheckId)
  if (row === undefined) throw notFound('result of a final check', finalCheckId)
  return finalCheckResultToWire(row)
}

/** The record of a stay is closed when the vehicle has left. */
function refuseAfterHandBack(place: { handed_back: boolean; order: { number: string } }): void {
  if (place.handed_back)
    throw problem('work-order-handed-back', { detail: `Work order ${place.order.number} has been handed back.` })
}

function header(row: { id: string; created_at: number; created_by: string | null }) {
  return { id: row.id, created_at: toInstant(row.created_at), created_by: row.created_by }
}

function lookResultToWire(row: LookResultRow): LookResult {
  return {
    ...header(row),
    look_id: row.look_id,
    ...(row.fine !== null && { fine: row.fine }),
    ...(row.finding_id !== null && { finding_id: row.finding_id }),
    ...(row.skipped_reason !== null && { skipped_reason: row.skipped_reason }),
  }
}

function finalCheckResultToWire(row: FinalCheckResultRow): FinalCheckResult {
  return {
    ...header(row),
    final_check_id: row.final_check_id,
    fine: row.fine,
    ...(row.finding_id !== null && { finding_id: row.finding_id }),
  }
}

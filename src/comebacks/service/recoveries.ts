import { addDays } from '../../core/calendar.ts'
import { OPEN_RECOVERY_STATES } from '../../core/vocabulary.ts'
import { asKnown } from '../../history/index.ts'
import { allSuppliers, supplierById } from '../../parts/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { type FieldError, invalid, known, notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Recovery, RecoveryInput } from '../contract.ts'
import { decisionById } from '../queries/decisions.ts'
import {
  fittedPart,
  insertRecovery,
  openRecoveriesDue,
  pageOfRecoveries,
  partsOfComeback,
  type RecoveryRow,
  recoveryRow,
  sameBatch,
} from '../queries/recoveries.ts'
import { decisionTold, type ToldDecision } from './told.ts'

const CLAIMS_SHOWN = 200

/**
 * A claim on a supplier for a comeback, or what has become of one (O): then it names the claim in whose place it stands, and
 * why. 422 for ids that name nothing, a comeback that is not confirmed, a part that the comeback does not have.
 */
export function recordRecovery(ctx: Context, input: RecoveryInput): Recovery {
  authorise(ctx)
  return write(ctx, tx => {
    known('/supplier_id', () => supplierById(ctx, input.supplier_id))
    const faults = [...comebackFaults(tx, input), ...partFaults(tx, input), ...supersedesFaults(tx, input)]
    if (faults.length > 0) throw invalid(...faults)
    const row = {
      ...newRecord(ctx),
      decision_id: input.decision_id,
      supplier_id: input.supplier_id,
      amount_minor: input.amount_minor,
      deadline_on: input.deadline_on,
      state: input.state,
      part_line_id: input.part_line_id ?? null,
      kept_where: input.kept_where ?? null,
      supersedes_id: input.supersedes ?? null,
      reason: input.reason ?? null,
    }
    insertRecovery(tx, row)
    recordEvent(ctx, tx, { action: 'recovery.recorded', table: 'recoveries', id: row.id })
    return toWire(tx, { ...row, superseded_by: null })
  })
}

/** A part that one of the two jobs fitted; nothing else can be the part that failed. */
function partFaults(read: Read, { decision_id, part_line_id }: RecoveryInput): FieldError[] {
  if (part_line_id === undefined || partsOfComeback(read, decision_id).some(part => part.id === part_line_id)) return []
  const detail = 'Neither the earlier job nor the stay that came back has this part.'
  return [{ pointer: '/part_line_id', detail, code: 'does_not_fit' }]
}

function comebackFaults(read: Read, { decision_id, supersedes }: RecoveryInput): FieldError[] {
  const decision = decisionById(read, decision_id)
  const fault = (detail: string, code: string) => [{ pointer: '/decision_id', detail, code }]
  if (decision === undefined) return fault('There is no decision with this id.', 'unknown')
  if (decision.decision !== 'confirmed') return fault('This was ruled out: there is nothing to claim.', 'not_confirmed')
  // a claim that is under way goes on, also when the decision has been written anew since
  if (decision.superseded_by !== null && supersedes === undefined)
    return fault('This decision no longer stands; name the newer one.', 'superseded')
  return []
}

function supersedesFaults(read: Read, input: RecoveryInput): FieldError[] {
  const { supersedes, reason, decision_id } = input
  const fault = (pointer: string, detail: string, code: string) => ({ pointer, detail, code })
  if (supersedes === undefined) {
    const detail = 'What has happened is said of a claim that is there already; name that in supersedes.'
    return reason === undefined ? [] : [fault('/reason', detail, 'does_not_fit')]
  }
  const standing = recoveryRow(read, supersedes)
  const faults: FieldError[] = []
  if (standing === undefined) faults.push(fault('/supersedes', 'There is no claim with this id.', 'unknown'))
  else if (standing.superseded_by !== null)
    faults.push(fault('/supersedes', 'A newer one stands in its place already.', 'superseded'))
  else if (standing.decision_id !== decision_id)
    faults.push(fault('/supersedes', 'That claim is for another comeback.', 'does_not_fit'))
  if (reason === undefined) faults.push(fault('/reason', 'Say what has happened.', 'missing'))
  return faults
}

/** 404 when there is none. */
export function recovery(ctx: Context, id: string): Recovery {
  const row = recoveryRow(ctx.read, id)
  if (row === undefined) throw notFound('recovery', id)
  return toWire(ctx.read, row)
}

/** Newest first, after an id; those that no longer stand among them. */
export function recoveries(ctx: Context, limit: number, after: string | null): Recovery[] {
  return pageOfRecoveries(ctx.read, limit, after).map(row => toWire(ctx.read, row))
}

/** The parts that may have failed: those of the earlier job and of the stay that came back. */
export function partsToClaim(ctx: Context, decisionId: string): ReturnType<typeof partsOfComeback> {
  return partsOfComeback(ctx.read, decisionId)
}

/** A claim with what people call its comeback, its supplier and its part. */
export interface ClaimTold {
  about: Recovery
  told: ToldDecision
  supplier: string
  part: string | null
  is_open: boolean
  is_late: boolean
}

/** Open ones first, those whose day comes soonest; then the others, newest first. */
export function claimsTold(ctx: Context): ClaimTold[] {
  const today = asKnown(ctx).asOf
  const suppliers = new Map(allSuppliers(ctx).map(({ id, name }) => [id, name]))
  const claims = pageOfRecoveries(ctx.read, CLAIMS_SHOWN, null).map(row => {
    const about = toWire(ctx.read, row)
    const is_open = about.superseded_by === undefined && OPEN_RECOVERY_STATES.includes(row.state)
    return {
      about,
      told: decisionTold(ctx, row.decision_id),
      supplier: suppliers.get(row.supplier_id)!,
      part: partName(ctx.read, row),
      is_open,
      is_late: is_open && row.deadline_on < today,
    }
  })
  const open = claims.filter(claim => claim.is_open)
  return [
    ...open.sort((a, b) => (a.about.deadline_on < b.about.deadline_on ? -1 : 1)),
    ...claims.filter(claim => !claim.is_open),
  ]
}

/** How many days before its deadline a claim begins to be reminded of. */
const REMINDED_DAYS = 7

/** A claim to be reminded of. */
export interface ClaimDue {
  supplier: string
  /** What is claimed for: the part that failed, where it is named, and the vehicle. */
  part: string | null
  vehicle: string
  deadline_on: string
  is_late: boolean
}

/** The open claims whose deadline is near or has passed, the most urgent first. */
export function claimsDue(ctx: Context): ClaimDue[] {
  const today = asKnown(ctx).asOf
  return openRecoveriesDue(ctx.read, addDays(today, REMINDED_DAYS)).map(row => ({
    supplier: supplierById(ctx, row.supplier_id).name,
    part: partName(ctx.read, row),
    vehicle: decisionTold(ctx, row.decision_id).stay.title,
    deadline_on: row.deadline_on,
    is_late: row.deadline_on < today,
  }))
}

function partName(read: Read, { decision_id, part_line_id }: RecoveryRow): string | null {
  return partsOfComeback(read, decision_id).find(each => each.id === part_line_id)?.name ?? null
}

function toWire(read: Read, row: RecoveryRow): Recovery {
  const part = row.part_line_id === null ? undefined : fittedPart(read, row.part_line_id)
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    decision_id: row.decision_id,
    supplier_id: row.supplier_id,
    amount_minor: row.amount_minor,
    deadline_on: row.deadline_on,
    state: row.state,
    ...(row.part_line_id !== null && { part_line_id: row.part_line_id }),
    ...(row.kept_where !== null && { kept_where: row.kept_where }),
    ...(row.supersedes_id !== null && { supersedes: row.supersedes_id }),
    ...(row.reason !== null && { reason: row.reason }),
    ...(row.superseded_by !== null && { superseded_by: row.superseded_by }),
    same_batch: part === undefined ? [] : sameBatch(read, part),
  }
}

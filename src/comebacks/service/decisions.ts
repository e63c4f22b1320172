import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { SUSPICION_REASONS } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant } from '../../platform/wire.ts'
import type { ComebackDecision, ComebackDecisionInput } from '../contract.ts'
import { type DecisionRow, decisionById, decisionsOn, insertDecision, pageOfDecisions } from '../queries/decisions.ts'
import { type EarlierRow, earlierJob, type StayRow, stays } from '../queries/suspects.ts'
import { earlierIdOf, suspected } from './suspicions.ts'

/**
 * A person's word on whether a stay came back because of an earlier job (O). A changed mind names the decision that it
 * supersedes. 422 for ids that name nothing, another vehicle, or a job that is not earlier; 409 `comeback-decided` when a
 * decision stands and is not named.
 */
export function decideComeback(ctx: Context, input: ComebackDecisionInput): ComebackDecision {
  authorise(ctx)
  return write(ctx, tx => {
    const { earlier } = requirePair(ctx, input)
    const standing = decisionsOn(tx, earlier.id, input.later_work_order_id).find(row => row.superseded_by === null)
    requireSuperseded(standing, input)
    const seen = suspected(ctx, { work_order_id: input.later_work_order_id }).find(
      pair => pair.earlier.id === earlier.id,
    )
    const row = {
      ...newRecord(ctx),
      earlier_job_id: earlier.source === 'jobs' ? earlier.id : null,
      earlier_history_event_id: earlier.source === 'history_events' ? earlier.id : null,
      later_work_order_id: input.later_work_order_id,
      decision: input.decision,
      why: input.why,
      category: input.category ?? null,
      root_cause: input.root_cause,
      borne_by: input.borne_by ?? null,
      reasons: (seen?.found ?? []).map(({ reason }) => reason),
      supersedes_id: input.supersedes ?? null,
      reason: input.reason ?? null,
    }
    insertDecision(tx, row)
    recordEvent(ctx, tx, { action: 'comeback.decided', table: 'comeback_decisions', id: row.id })
    return decisionOnWire({ ...row, superseded_by: null })
  })
}

/** The two that a decision is about, or 422 where they do not fit together. */
export function requirePair(
  ctx: Context,
  { earlier_job_id, later_work_order_id }: Pick<ComebackDecisionInput, 'earlier_job_id' | 'later_work_order_id'>,
): { earlier: EarlierRow; later: StayRow } {
  const refuse = (detail: string) => invalid({ pointer: '/later_work_order_id', detail, code: 'does_not_fit' })
  const { earlier, later } = together({
    earlier: () => requireEarlier(ctx, earlier_job_id),
    later: () => requireStay(ctx, later_work_order_id),
  })
  if (later.id === earlier.order_id) throw refuse('The job is on this very work order.')
  if (later.vehicle_id !== earlier.vehicle_id) throw refuse('That work order is about another vehicle.')
  const takenInOn = localDateOf(later.created_at, settingsOf(ctx).time_zone)
  const isLater =
    earlier.handed_back_at === null ? earlier.handed_back_on <= takenInOn : earlier.handed_back_at <= later.created_at
  if (!isLater) throw refuse('That work order began before the job was handed back.')
  return { earlier, later }
}

function requireEarlier(ctx: Context, jobId: string): EarlierRow {
  const earlier = earlierJob(ctx.read, jobId)
  if (earlier !== undefined) return earlier
  const detail = 'There is no job of ours with this id that was handed back, nor such work in an imported history.'
  throw invalid({ pointer: '/earlier_job_id', detail, code: 'unknown' })
}

function requireStay(ctx: Context, orderId: string): StayRow {
  const [stay] = stays(ctx.read, { orderId })
  if (stay !== undefined) return stay
  const detail = 'There is no work order with this id.'
  throw invalid({ pointer: '/later_work_order_id', detail, code: 'unknown' })
}

function requireSuperseded(
  standing: DecisionRow | undefined,
  { supersedes, reason }: Pick<ComebackDecisionInput, 'supersedes' | 'reason'>,
): void {
  if (supersedes === undefined && reason !== undefined) {
    const detail = 'Say which decision does not hold, or leave the reason out.'
    throw invalid({ pointer: '/supersedes', detail, code: 'missing' })
  }
  if (standing?.id === supersedes) return
  if (supersedes !== undefined) {
    const detail = 'This is not the decision that stands on this job and this work order.'
    throw invalid({ pointer: '/supersedes', detail, code: 'does_not_fit' })
  }
  throw problem('comeback-decided', {
    detail: 'This has been decided. To change it, write a new decision that supersedes the one that stands.',
    extra: { standing_decision_id: standing?.id },
  })
}

/** 404 when there is none. */
export function comebackDecision(ctx: Context, id: string): ComebackDecision {
  const row = decisionById(ctx.read, id)
  if (row === undefined) throw notFound('comeback decision', id)
  return decisionOnWire(row)
}

/** Newest first, after an id. */
export function comebackDecisions(ctx: Context, limit: number, after: string | null): ComebackDecision[] {
  return pageOfDecisions(ctx.read, limit, after).map(decisionOnWire)
}

/** All on one job and one stay, newest first: the first one stands. */
export function decisionsAbout(ctx: Context, earlierId: string, laterId: string): ComebackDecision[] {
  return decisionsOn(ctx.read, earlierId, laterId).map(decisionOnWire)
}

export function decisionOnWire(row: DecisionRow): ComebackDecision {
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    earlier_job_id: earlierIdOf(row),
    later_work_order_id: row.later_work_order_id,
    decision: row.decision,
    why: row.why,
    ...(row.category !== null && { category: row.category }),
    root_cause: row.root_cause,
    ...(row.borne_by !== null && { borne_by: row.borne_by }),
    ...(row.supersedes_id !== null && { supersedes: row.supersedes_id }),
    ...(row.reason !== null && { reason: row.reason }),
    reasons: SUSPICION_REASONS.filter(reason => row.reasons.includes(reason)),
    ...(row.superseded_by !== null && { superseded_by: row.superseded_by }),
  }
}

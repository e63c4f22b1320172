import { longDay } from '../../core/days.ts'
import { severityRank } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Doubt, DoubtSettlement, DoubtSettlementInput } from '../contract.ts'
import {
  correctionsAfterHandBack,
  insertDoubtSettlement,
  jointsTouchedByRecord,
  jointsTouchedByWrench,
  settlementsOf,
  type TouchedJoint,
  wrenchCauses,
} from '../queries.ts'

type Cause = Doubt['cause']

/**
 * Every joint that is or was in doubt: touched by a wrench since its last known good day until it was found outside or
 * dropped (ISO 10012; ISO 9001, 7.1.5.2), or put right on paper after the vehicle had left. Safety first; vehicles that have
 * left before those in the house. Derived from the rows each time: settled only by a person, in a row of its own.
 */
export function allDoubts(ctx: Context): Doubt[] {
  const settlements = new Map(settlementsOf(ctx.read).map(row => [`${row.cause_id}.${row.joint_id}`, row]))
  const found: { doubt: Doubt; hasLeft: boolean }[] = []
  const add = (cause: Cause, causeId: string, joint: TouchedJoint, because: string) => {
    const id = `${causeId}.${joint.joint_id}`
    const settled = settlements.get(id)
    const doubt: Doubt = {
      id,
      cause,
      cause_id: causeId,
      joint_id: joint.joint_id,
      vehicle_id: joint.vehicle_id,
      severity: joint.severity,
      since: toInstant(joint.since),
      sentence: `${joint.joint_name} on work order ${joint.order_number}: ${because}`,
      settled:
        settled === undefined
          ? null
          : {
              how: settled.how,
              ...(settled.note !== null && { note: settled.note }),
              at: toInstant(settled.created_at),
              by: settled.created_by,
            },
    }
    found.push({ doubt, hasLeft: joint.has_left === 1 })
  }
  for (const cause of wrenchCauses(ctx.read)) {
    const because =
      cause.reason === null
        ? `wrench ${cause.wrench_name}, which tightened it, was found outside its limits on ${longDay(cause.on)}.`
        : `wrench ${cause.wrench_name}, which tightened it, was taken out of use on ${longDay(cause.on)}: ${cause.reason}.`
    for (const joint of jointsTouchedByWrench(ctx.read, cause)) add('wrench', cause.cause_id, joint, because)
  }
  for (const correction of correctionsAfterHandBack(ctx.read)) {
    const because = `a record of it was put right after the vehicle had left: ${correction.reason ?? ''}.`
    for (const joint of jointsTouchedByRecord(ctx.read, correction.cause_id))
      add('correction', correction.cause_id, joint, because)
  }
  return found
    .sort(
      (one, other) =>
        severityRank(one.doubt.severity) - severityRank(other.doubt.severity) ||
        Number(other.hasLeft) - Number(one.hasLeft) ||
        one.doubt.id.localeCompare(other.doubt.id),
    )
    .map(({ doubt }) => doubt)
}

/** The doubts that nobody has settled yet. */
export function openDoubts(ctx: Context): Doubt[] {
  return allDoubts(ctx).filter(doubt => doubt.settled === null)
}

export function doubtById(ctx: Context, id: string): Doubt {
  const doubt = allDoubts(ctx).find(candidate => candidate.id === id)
  if (doubt === undefined) throw notFound('doubt', id)
  return doubt
}

/** A person settles a doubt about a joint (T): how, and any note. Problems: not-found, doubt-settled. */
export function settleDoubt(ctx: Context, doubtId: string, input: DoubtSettlementInput): DoubtSettlement {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const doubt = doubtById(ctx, doubtId)
    if (doubt.settled !== null)
      throw problem('doubt-settled', { detail: 'Somebody has settled this doubt already; the record stays.' })
    const row = {
      ...newRecord(ctx),
      joint_id: doubt.joint_id,
      cause: doubt.cause,
      cause_id: doubt.cause_id,
      how: input.how,
      note: input.note ?? null,
    }
    insertDoubtSettlement(tx, row)
    recordEvent(ctx, tx, { action: 'doubt.settled', table: 'doubt_settlements', id: row.id })
    const { note, created_at, ...rest } = row
    return { ...rest, created_at: toInstant(created_at), ...(note !== null && { note }) }
  })
}

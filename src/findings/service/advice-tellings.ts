import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { newRecord } from '../../platform/records.ts'
import { type Talk, talksOfOrder, workOrderById, writeTalk } from '../../work-orders/index.ts'
import type { AdviceTelling, AdviceTellingInput, Finding } from '../contract.ts'
import { adviceTellingsInTalks, findingsOfStay, insertAdviceTelling, toldFindings } from '../queries.ts'
import { mustBeTold } from '../rules.ts'
import { findingsToWire, requireFindingOn } from './findings.ts'

/**
 * Writes down that the customer was told of findings (D T): who, how and what came back, as a talk of the order. Problems:
 * not-found, role-not-allowed, invalid-input for a finding of another vehicle.
 */
export function tellFindings(ctx: Context, orderId: string, input: AdviceTellingInput): AdviceTelling {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const { vehicle_id } = workOrderById(ctx, orderId)
    const { finding_ids, ...said } = input
    const ids = [...new Set(finding_ids)]
    for (const [at, id] of ids.entries()) requireFindingOn(ctx, id, vehicle_id, `/finding_ids/${at}`)
    const talk = writeTalk(ctx, orderId, said)
    for (const id of ids) insertAdviceTelling(tx, { ...newRecord(ctx), finding_id: id, talk_id: talk.id })
    recordEvent(ctx, tx, { action: 'findings.told', table: 'talks', id: talk.id })
    return toWire(talk, ids)
  })
}

/** Oldest first. 404 for an unknown order. */
export function adviceTellingsOf(ctx: Context, orderId: string): AdviceTelling[] {
  const talks = talksOfOrder(ctx, orderId)
  const told = adviceTellingsInTalks(
    ctx.read,
    talks.map(talk => talk.id),
  )
  return talks.flatMap(talk => {
    const ids = told.filter(row => row.talk_id === talk.id).map(row => row.finding_id)
    return ids.length === 0 ? [] : [toWire(talk, ids)]
  })
}

/** `created_at`: the instant at which the vehicle was taken in. */
interface Stay {
  id: string
  vehicle_id: string
  created_at: number
}

/** Findings of a stay on which safety hangs and of which nobody has told the customer, oldest first. */
export function untoldOfStay(ctx: Context, order: Stay): Finding[] {
  const { id: orderId, vehicle_id: vehicleId, created_at: since } = order
  const rows = findingsOfStay(ctx.read, { orderId, vehicleId, since })
  const risky = rows.filter(row => mustBeTold(row.severity))
  if (risky.length === 0) return []
  const told = toldFindings(
    ctx.read,
    risky.map(row => row.id),
  )
  return findingsToWire(
    ctx,
    risky.filter(row => !told.has(row.id)),
  )
}

function toWire({ promised: _, ...talk }: Talk, finding_ids: string[]): AdviceTelling {
  return { ...talk, finding_ids }
}

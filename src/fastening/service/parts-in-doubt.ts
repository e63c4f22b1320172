import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import { toInstant } from '../../platform/wire.ts'
import type { PartInDoubt } from '../contract/doubt.ts'
import { type LoosePartRow, loosePartsOfBatches } from '../queries/batches.ts'
import { vehiclesInDoubt } from '../queries/doubted-vehicles.ts'
import { partSentence } from '../rules/doubt-words.ts'
import { type Cause, causesOfDoubt } from './doubt-causes.ts'
import { settledBy } from './doubts.ts'

/** A part in doubt with its cause, and the person whose vehicle it was. */
export interface FoundPart {
  part: PartInDoubt
  cause: Cause
  customer_id: string
}

/**
 * Parts of batches that were found bad, fitted without a word of the joint: no joint is in doubt by them, but their vehicle is
 * to be called all the same. On one vehicle, or (null) on all; those that have left first.
 */
export function findParts(ctx: Context, vehicleId: string | null): FoundPart[] {
  const rows = loosePartsOfBatches(ctx.read, vehicleId)
  if (rows.length === 0) return []
  const { byId } = causesOfDoubt(ctx)
  const vehicles = vehiclesInDoubt(ctx.read, [...new Set(rows.map(row => row.vehicle_id))])
  const leftOn = new Map(vehicles.map(row => [row.vehicle_id, row.in_house === 1 ? null : row.left_on]))
  return rows
    .map(row => found(row, byId.get(row.cause_id)!, leftOn.get(row.vehicle_id) ?? null))
    .sort(
      (one, other) =>
        Number(one.part.left_on === undefined) - Number(other.part.left_on === undefined) ||
        one.part.since.localeCompare(other.part.since) ||
        one.part.id.localeCompare(other.part.id),
    )
}

function found(row: LoosePartRow, cause: Cause, leftOn: string | null): FoundPart {
  const part: PartInDoubt = {
    id: `${row.cause_id}.${row.part_line_id}`,
    batch_fault_id: row.cause_id,
    part_line_id: row.part_line_id,
    because: cause.because,
    work_order_id: row.order_id,
    work_order_number: row.order_number,
    vehicle_id: row.vehicle_id,
    ...(leftOn !== null && { left_on: leftOn }),
    since: toInstant(row.since),
    known_at: toInstant(row.known_at),
    sentence: partSentence(row.part_name, row.order_number, cause),
    customer_sentence: cause.to_customer(`vehicle (work order ${row.order_number})`),
    settled: row.settlement && settledBy(row.settlement, null),
  }
  return { part, cause, customer_id: row.customer_id }
}

export function allPartsInDoubt(ctx: Context): PartInDoubt[] {
  return findParts(ctx, null).map(({ part }) => part)
}

/** On one vehicle, those that nobody has settled yet. */
export function openPartsOfVehicle(ctx: Context, vehicleId: string): PartInDoubt[] {
  return findParts(ctx, vehicleId)
    .map(({ part }) => part)
    .filter(part => part.settled === null)
}

/** 404 when there is none. */
export function requirePart(ctx: Context, id: string): FoundPart {
  const found = findParts(ctx, null).find(({ part }) => part.id === id)
  if (found === undefined) throw notFound('part in doubt', id)
  return found
}

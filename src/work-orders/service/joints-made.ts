import type { Context } from '../../platform/context.ts'
import { findJointsMade } from '../queries/joints-made.ts'

/** How many joints each revision of a procedure has made: on vehicles that are here, and on those that have left. */
export function jointsByRevision(ctx: Context, procedureId: string): Map<string, { in_house: number; gone: number }> {
  const rows = findJointsMade(ctx.read, procedureId)
  return new Map(rows.map(({ revision_id, joints, gone }) => [revision_id, { in_house: joints - gone, gone }]))
}

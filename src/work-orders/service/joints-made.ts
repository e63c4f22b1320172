import type { Context } from '../../platform/context.ts'
import { findJointsMade, findJointsOfVehicle } from '../queries/joints-made.ts'

/** How many joints each revision of a procedure has made: on vehicles that are here, and on those that have left. */
export function jointsByRevision(ctx: Context, procedureId: string): Map<string, { in_house: number; gone: number }> {
  const rows = findJointsMade(ctx.read, procedureId)
  return new Map(rows.map(({ revision_id, joints, gone }) => [revision_id, { in_house: joints - gone, gone }]))
}

/** The joints of every job on a vehicle that was not voided, by the job. */
export function jointsOfVehicle(ctx: Context, vehicleId: string): Map<string, { id: string; name: string }[]> {
  const byJob = new Map<string, { id: string; name: string }[]>()
  for (const { job_id, id, name } of findJointsOfVehicle(ctx.read, vehicleId))
    byJob.set(job_id, [...(byJob.get(job_id) ?? []), { id, name }])
  return byJob
}

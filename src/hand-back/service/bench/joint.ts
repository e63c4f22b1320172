import { settingsOf } from '../../../accounts/index.ts'
import { geometry, type Place } from '../../../core/fastening/geometry.ts'
import { doubtsOfJoint, type LoadedJoint, loadJoint } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { vehicleById } from '../../../vehicles/index.ts'
import { findToolsStillIn } from '../../queries.ts'
import { type AtHand, atHand, type JointAsked } from './at-hand.ts'

export interface JointAtBench {
  joint: LoadedJoint
  /** In the vehicle now. */
  tools_in: ReturnType<typeof findToolsStillIn>
  vehicle: ReturnType<typeof vehicleById>
  places: Place[]
  /** For each position, its number in the tightening order. */
  numbers: number[]
  /** Open and settled, the oldest first. */
  doubts: ReturnType<typeof doubtsOfJoint>
  /** Null on a joint that is done, left half way, or has gone with its vehicle. */
  at_hand: AtHand | null
}

/** 404 for an unknown joint. */
export function jointAtBench(ctx: Context, jointId: string, asked: JointAsked): JointAtBench {
  const joint = loadJoint(ctx, jointId)
  const { revision } = joint.row
  const numbers: number[] = []
  for (const [at, position] of joint.procedure.order.entries()) numbers[position - 1] = at + 1
  const { layout, count, rows } = revision
  const isLive = joint.row.handed_back_at === null && joint.left === null
  return {
    joint,
    tools_in: findToolsStillIn(ctx.read, joint.row.job.work_order_id),
    vehicle: vehicleById(ctx, joint.row.vehicle_id),
    places:
      revision.positions ??
      geometry({ layout: layout === 'free' ? 'row' : layout, count, ...(rows !== null && { rows }) }),
    numbers,
    doubts: doubtsOfJoint(ctx, jointId),
    at_hand: isLive ? atHand(ctx, joint, numbers, asked, settingsOf(ctx)) : null,
  }
}

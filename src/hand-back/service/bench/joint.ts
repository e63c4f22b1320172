import { settingsOf } from '../../../accounts/index.ts'
import { geometry, type Place } from '../../../core/fastening/geometry.ts'
import {
  besideJoint,
  doubtsTold,
  type LoadedJoint,
  loadJoint,
  marksFirst,
  secondPeople,
  signingBlockers,
} from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { vehicleById } from '../../../vehicles/index.ts'
import { type ToolsOfPlan, toolsAtJoint } from '../../../work-orders/index.ts'
import { type ToolInVehicle, toolsOfOrder } from '../tools-in-vehicle.ts'
import { type AtHand, atHand, type JointAsked } from './at-hand.ts'

export interface JointAtBench {
  joint: LoadedJoint
  /** In the vehicle now; `closed_in`: out before it is signed; `beside`: whoever signs says that the joint does not close over it. */
  tools_in: (ToolInVehicle & { closed_in: boolean; beside: boolean })[]
  /** The marks that come before anything is turned. */
  marks_first: ReturnType<typeof marksFirst>
  /** What keeps it from being signed, beside the stages of its fasteners. */
  blockers: ReturnType<typeof signingBlockers>
  vehicle: ReturnType<typeof vehicleById>
  places: Place[]
  /** For each position, its number in the tightening order. */
  numbers: number[]
  /** Open and settled, the oldest first. */
  doubts: ReturnType<typeof doubtsTold>
  /** Who may still sign as second person; null where none is needed. */
  second_people: ReturnType<typeof secondPeople>
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
  const beside = besideJoint(ctx, joint)
  const isLive = joint.row.handed_back_at === null && joint.left === null
  return {
    joint,
    tools_in: toolsAt(joint, beside.inside),
    marks_first: isLive ? marksFirst(ctx, joint) : [],
    blockers: isLive && !joint.signed ? signingBlockers(ctx, joint, beside) : [],
    vehicle: vehicleById(ctx, joint.row.vehicle_id),
    places:
      revision.positions ??
      geometry({ layout: layout === 'free' ? 'row' : layout, count, ...(rows !== null && { rows }) }),
    numbers,
    doubts: doubtsTold(ctx, beside.doubts),
    second_people: secondPeople(ctx, joint),
    at_hand: isLive ? atHand(ctx, joint, numbers, asked, settingsOf(ctx)) : null,
  }
}

function toolsAt({ row }: LoadedJoint, inside: ToolsOfPlan): JointAtBench['tools_in'] {
  const { closed_in, beside } = toolsAtJoint(inside, row.joint)
  const isAmong = (tools: readonly { id: string }[], id: string) => tools.some(tool => tool.id === id)
  return toolsOfOrder(inside).map(tool => ({
    ...tool,
    closed_in: isAmong(closed_in, tool.id),
    beside: isAmong(beside, tool.id),
  }))
}

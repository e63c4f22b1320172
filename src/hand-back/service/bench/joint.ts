import { settingsOf } from '../../../accounts/index.ts'
import { localDateOf } from '../../../core/calendar.ts'
import { geometry, type Place } from '../../../core/fastening/geometry.ts'
import { tolerance } from '../../../core/fastening/tolerance.ts'
import { type LoadedJoint, loadJoint, wrenchCycles } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { notFound } from '../../../platform/problems.ts'
import { type RegisteredWrench, type WrenchesForTarget, wrenchesForTarget } from '../../../tools/index.ts'
import { vehicleById } from '../../../vehicles/index.ts'
import { type OrderPlan, planOfOrder } from '../../../work-orders/index.ts'

/** What is asked of the joint's page: a fastener out of its turn, another wrench than the one proposed. */
export interface JointAsked {
  position?: number | undefined
  wrench_id?: string | undefined
}

/** The fastener and stage at hand. */
export interface AtHand {
  position: number
  /** Its number in the tightening order. */
  number: number
  fastener: number
  stage: number
  action: 'tighten' | 'restart' | 'replace'
  kind: 'torque' | 'angle' | 'loosen' | 'check'
  target: number
  lower: number
  upper: number
  default_used: boolean
  in_turn: boolean
  /** Of a torque: the wrenches of the shop, and the one in hand. */
  wrenches: WrenchesForTarget | null
  wrench: RegisteredWrench | null
  uncertainty: number | null
}

export interface JointAtBench {
  joint: LoadedJoint
  plan: OrderPlan
  vehicle: ReturnType<typeof vehicleById>
  places: Place[]
  /** For each position, its number in the tightening order. */
  numbers: number[]
  at_hand: AtHand | null
}

/** 404 for an unknown joint. */
export function jointAtBench(ctx: Context, jointId: string, asked: JointAsked): JointAtBench {
  const joint = loadJoint(ctx, jointId)
  const { revision } = joint.row
  const plan = planOfOrder(ctx, joint.row.job.work_order_id)
  const numbers: number[] = []
  for (const [at, position] of joint.procedure.order.entries()) numbers[position - 1] = at + 1
  const { layout, count, rows } = revision
  return {
    joint,
    plan,
    vehicle: vehicleById(ctx, plan.order.vehicle_id),
    places:
      revision.positions ??
      geometry({ layout: layout === 'free' ? 'row' : layout, count, ...(rows !== null && { rows }) }),
    numbers,
    at_hand: atHand(ctx, joint, numbers, asked),
  }
}

function atHand(ctx: Context, joint: LoadedJoint, numbers: number[], asked: JointAsked): AtHand | null {
  const { state, row } = joint
  const next = state.next
  const position = asked.position ?? next?.position
  if (position === undefined) return null
  const own = state.fasteners[position - 1]
  if (own === undefined) throw notFound('position', String(position))
  // a fastener that is done already is only looked at
  if (own.complete || own.next_stage === null || own.needs === 'nothing') return null
  const settings = settingsOf(ctx)
  const stage = row.revision.stages[own.next_stage - 1]!
  const limits = tolerance(stage, settings.default_tolerance_bp)
  const isTorque = stage.kind === 'torque' || stage.kind === 'check'
  const today = localDateOf(ctx.clock.now(), settings.time_zone)
  const wrenches = isTorque
    ? wrenchesForTarget(
        ctx,
        { target: stage.target, lower: limits.lower, upper: limits.upper, on: today },
        wrenchCycles(ctx),
      )
    : null
  const inHand = wrenches === null ? null : wrenchInHand(wrenches, joint, own.next_stage, asked.wrench_id)
  return {
    position,
    number: numbers[position - 1]!,
    fastener: own.needs === 'replace' ? own.fastener + 1 : own.fastener,
    stage: own.next_stage,
    action: own.needs,
    kind: stage.kind,
    target: stage.target,
    ...limits,
    in_turn: next !== null && next.position === position,
    wrenches,
    wrench: inHand?.wrench ?? null,
    uncertainty: isTorque ? (inHand?.uncertainty_nm ?? null) : settings.gauge_uncertainty_deg,
  }
}

/** The one that was chosen, else the one in use at this stage, else the surest one. */
function wrenchInHand(wrenches: WrenchesForTarget, joint: LoadedJoint, stage: number, askedId: string | undefined) {
  const lastUsed = joint.records.findLast(record => record.stage === stage && record.wrench_id !== null)?.wrench_id
  const usable = (id: string | null | undefined) => wrenches.best_first.find(choice => choice.wrench.id === id)
  return usable(askedId) ?? usable(lastUsed) ?? wrenches.best_first[0]
}

import type { Settings } from '../../../accounts/index.ts'
import { localDateOf } from '../../../core/calendar.ts'
import { adapter } from '../../../core/fastening/adapter.ts'
import { tolerance } from '../../../core/fastening/tolerance.ts'
import type { StageKind, TorqueUnit } from '../../../core/vocabulary.ts'
import { isOutOfTurn, type LoadedJoint, oldFasteners, positionInTurn, wrenchCycles } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { notFound } from '../../../platform/problems.ts'
import {
  type AdapterFacts,
  allAdapters,
  type GaugesForAngle,
  gaugesForAngle,
  type RegisteredWrench,
  type WrenchesForTarget,
  wrenchesForTarget,
} from '../../../tools/index.ts'

/** What is asked of the joint's page: a fastener out of its turn, another tool than the one proposed, the unit it shows. */
export interface JointAsked {
  position?: number | undefined
  wrench_id?: string | undefined
  gauge_id?: string | undefined
  adapter_id?: string | undefined
  adapter_angle_deg?: number | undefined
  unit?: TorqueUnit | undefined
}

/** The fastener and stage at hand. Limits and uncertainty are those at the joint, in N·m or degrees. */
export interface AtHand {
  position: number
  /** Its number in the tightening order. */
  number: number
  fastener: number
  stage: number
  action: 'tighten' | 'restart' | 'replace'
  kind: StageKind
  target: number
  lower: number
  upper: number
  default_used: boolean
  /** What the page comes to by itself. */
  is_next: boolean
  /** Next, or done again by itself, which is no question of order. */
  in_turn: boolean
  uncertainty: number | null
  unit: TorqueUnit
  /** Of a torque; null at an angle. */
  torque: TorqueTools | null
  /** Of an angle; null at a torque. */
  angle: AngleTools | null
}

export interface TorqueTools {
  wrenches: WrenchesForTarget
  wrench: RegisteredWrench | null
  adapters: AdapterFacts[]
  adapter: AdapterOnWrench | null
}

/** An adapter in the square of the wrench in hand. */
export interface AdapterOnWrench {
  facts: AdapterFacts
  angle_deg: number
  /** What to set the wrench to, or what it must show, in N·m; null with the reason why it cannot be used so. */
  set_nm: number | null
  problem: string | null
}

export interface AngleTools {
  gauges: GaugesForAngle
  gauge: GaugesForAngle['best_first'][number] | null
}

/** Null when nothing is left to do at that fastener. 404 for a position that the joint has not got. */
export function atHand(
  ctx: Context,
  joint: LoadedJoint,
  numbers: number[],
  asked: JointAsked,
  settings: Settings,
): AtHand | null {
  const { state, row } = joint
  const old = oldFasteners(joint)
  const next = positionInTurn(joint)
  const position = asked.position ?? next
  if (position === undefined) return null
  const found = state.fasteners[position - 1]
  if (found === undefined) throw notFound('position', String(position))
  const own = old.has(position) && found.complete ? { ...found, needs: 'replace' as const, next_stage: 1 } : found
  // a fastener that is done already is only looked at
  if (own.next_stage === null || own.needs === 'nothing') return null
  const stage = row.revision.stages[own.next_stage - 1]!
  const limits = tolerance(stage, settings.default_tolerance_bp)
  const on = localDateOf(ctx.clock.now(), settings.time_zone)
  const wanted = { target: stage.target, lower: limits.lower, upper: limits.upper, on }
  const isTorque = stage.kind === 'torque' || stage.kind === 'check'
  const [torque, torqueUncertainty] = isTorque ? torqueTools(ctx, joint, own.next_stage, wanted, asked) : [null, null]
  const angle = isTorque ? null : angleTools(ctx, joint, own.next_stage, on, asked.gauge_id)
  return {
    position,
    number: numbers[position - 1]!,
    fastener: own.needs === 'replace' ? own.fastener + 1 : own.fastener,
    stage: own.next_stage,
    action: own.needs,
    kind: stage.kind,
    target: stage.target,
    ...limits,
    is_next: next === position,
    in_turn: !isOutOfTurn(joint, { position }),
    uncertainty: angle === null ? torqueUncertainty : (angle.gauge?.uncertainty_deg ?? angle.gauges.setting_deg),
    unit: asked.unit ?? settings.torque_unit,
    torque,
    angle,
  }
}

interface Wanted {
  target: number
  lower: number
  upper: number
  on: string
}

/** The wrenches, the one in hand, and what is known of the torque that the joint gets from it. */
function torqueTools(
  ctx: Context,
  joint: LoadedJoint,
  stage: number,
  wanted: Wanted,
  asked: JointAsked,
): [TorqueTools, number | null] {
  const cycles = wrenchCycles(ctx)
  const wrenches = wrenchesForTarget(ctx, wanted, cycles)
  const inHand = wrenchInHand(wrenches, joint, stage, asked.wrench_id)
  const adapters = allAdapters(ctx)
  const facts = adapters.find(({ id }) => id === asked.adapter_id)
  const wrench = inHand?.wrench ?? null
  if (facts === undefined || wrench === null)
    return [{ wrenches, wrench, adapters, adapter: null }, inHand?.uncertainty_nm ?? null]
  const angle_deg = asked.adapter_angle_deg ?? 0
  const cannot = (problem: string): [TorqueTools, null] => [
    { wrenches, wrench, adapters, adapter: { facts, angle_deg, set_nm: null, problem } },
    null,
  ]
  if (wrench.length_mm === null)
    return cannot(`Nobody has noted how long wrench ${wrench.name} is, from its drive to its grip mark.`)
  const reach = wrench.length_mm + facts.length_mm * Math.cos((angle_deg * Math.PI) / 180)
  if (reach <= 1e-9 * wrench.length_mm) return cannot('Turned so far back, the adapter reaches past the hand.')
  const set_nm = adapter({
    target_nm: wanted.target,
    wrench_length_mm: wrench.length_mm,
    adapter_length_mm: facts.length_mm,
    angle_deg,
  })
  // the wrench is judged where it works itself, the joint where the torque arrives
  const share = set_nm / wanted.target
  const there = { target: set_nm, lower: wanted.lower * share, upper: wanted.upper * share, on: wanted.on }
  const atSetting = wrenchesForTarget(ctx, there, cycles).best_first.find(each => each.wrench.id === wrench.id)
  const uncertainty = atSetting?.uncertainty_nm ?? null
  return [
    {
      wrenches,
      wrench,
      adapters,
      adapter: {
        facts,
        angle_deg,
        set_nm,
        problem: atSetting === undefined ? `At that setting wrench ${wrench.name} is outside its usable range.` : null,
      },
    },
    uncertainty === null ? null : uncertainty / share,
  ]
}

/** The one that was chosen, else the one in use at this stage, else the surest one. */
function wrenchInHand(wrenches: WrenchesForTarget, joint: LoadedJoint, stage: number, askedId: string | undefined) {
  const lastUsed = joint.records.findLast(record => record.stage === stage && record.wrench_id !== null)?.wrench_id
  const usable = (id: string | null | undefined) => wrenches.best_first.find(choice => choice.wrench.id === id)
  return usable(askedId) ?? usable(lastUsed) ?? wrenches.best_first[0]
}

function angleTools(
  ctx: Context,
  joint: LoadedJoint,
  stage: number,
  on: string,
  askedId: string | undefined,
): AngleTools {
  const gauges = gaugesForAngle(ctx, on)
  const lastUsed = joint.records.findLast(record => record.stage === stage && record.gauge_id !== null)?.gauge_id
  const usable = (id: string | null | undefined) => gauges.best_first.find(gauge => gauge.id === id)
  return { gauges, gauge: usable(askedId) ?? usable(lastUsed) ?? gauges.best_first[0] ?? null }
}

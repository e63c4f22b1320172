import { adapter } from '../../core/fastening/adapter.ts'
import { calibrationOn } from '../../core/fastening/calibration-on.ts'
import { instrumentUncertainty } from '../../core/fastening/instrument-uncertainty.ts'
import { type WrenchTrouble, wrenchUsable } from '../../core/fastening/wrench-usable.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { notFound } from '../../platform/problems.ts'
import { edited, newEditable } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Adapter, AdapterInput, AdapterPatch } from '../contract.ts'
import * as queries from '../queries.ts'
import { refuseTakenName } from './faults.ts'
import { allWrenchFacts, calibrationRule, counted, type RegisteredWrench, today } from './state.ts'
import type { CyclesSince } from './use.ts'

/** An adapter as the rules of tightening take it. */
export type AdapterFacts = Pick<Adapter, 'id' | 'name' | 'length_mm'>

/** Undefined when there is no such adapter. */
export function adapterFacts(ctx: Pick<Context, 'read'>, id: string): AdapterFacts | undefined {
  const row = queries.adapterRow(ctx.read, id)
  return row && { id: row.id, name: row.name, length_mm: row.length_mm }
}

/** Owner. */
export function registerAdapter(ctx: Context, input: AdapterInput): Adapter {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName('adapter', queries.allAdapterRows(ctx.read), input.name)
    const row = { ...newEditable(ctx), ...input }
    queries.insertAdapter(tx, row)
    recordEvent(ctx, tx, { action: 'adapter.registered', table: 'adapters', id: row.id })
    return toWire(row)
  })
}

/** Owner. 412 when the record has moved on from `version`. */
export function updateAdapter(ctx: Context, id: string, version: number, patch: AdapterPatch): Adapter {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireAdapter(ctx, id)
    requireVersion(row.version, version)
    const input = mergePatch<AdapterInput>({ name: row.name, length_mm: row.length_mm }, patch)
    refuseTakenName('adapter', queries.allAdapterRows(ctx.read), input.name, id)
    const changed = { ...row, ...input, ...edited(ctx, row) }
    queries.updateAdapterRow(tx, changed)
    recordEvent(ctx, tx, { action: 'adapter.edited', table: 'adapters', id })
    return toWire(changed)
  })
}

/** 404 when there is none. */
export function adapterById(ctx: Context, id: string): Adapter {
  return toWire(requireAdapter(ctx, id))
}

/** By name. */
export function allAdapters(ctx: Pick<Context, 'read'>): Adapter[] {
  return queries.allAdapterRows(ctx.read).map(toWire)
}

/** What a wrench must be set to so that the fastener gets its torque through an adapter. */
export interface AdapterSetting {
  wrench: RegisteredWrench
  /** Null when the wrench's length is not known, or the adapter would reach back past the hand. */
  set_nm: number | null
  /** Expanded uncertainty (k = 2) at the fastener, in N·m: the wrench's own at its setting, carried along the lever. */
  uncertainty_nm: number | null
  /** What speaks against the wrench at that setting. */
  because: WrenchTrouble[]
}

/**
 * Each wrench of the shop through an adapter, the usable ones first, of those the smallest uncertainty first. `angle_deg` is
 * the angle between the wrench's axis, outwards, and the adapter.
 */
export function adapterSettings(
  ctx: Context,
  { length_mm }: Pick<AdapterFacts, 'length_mm'>,
  { target_nm, angle_deg }: { target_nm: number; angle_deg: number },
  cyclesSince: CyclesSince,
): AdapterSetting[] {
  const [on, rule] = [today(ctx), calibrationRule(ctx)]
  const settings = allWrenchFacts(ctx).map((facts): AdapterSetting => {
    const wrench = counted(facts, on, cyclesSince)
    const set_nm = setValue(wrench, { target_nm, angle_deg, adapter_length_mm: length_mm })
    if (set_nm === null) return { wrench, set_nm, uncertainty_nm: null, because: [] }
    const points = calibrationOn(wrench.calibrations, on)?.points ?? []
    const own = instrumentUncertainty(set_nm, { ...wrench, points })
    const because = wrenchUsable(wrench, set_nm, on, rule)
    return { wrench, set_nm, uncertainty_nm: own === null ? null : (own * target_nm) / set_nm, because }
  })
  const rank = ({ set_nm, because }: AdapterSetting) => (set_nm === null ? 2 : Math.min(because.length, 1))
  const size = ({ uncertainty_nm }: AdapterSetting) => uncertainty_nm ?? Number.MAX_VALUE
  return settings.sort((one, other) => rank(one) - rank(other) || size(one) - size(other))
}

function setValue(
  { length_mm }: RegisteredWrench,
  asked: { target_nm: number; angle_deg: number; adapter_length_mm: number },
): number | null {
  if (length_mm === null) return null
  const reachMm = length_mm + asked.adapter_length_mm * Math.cos((asked.angle_deg * Math.PI) / 180)
  return reachMm > 0.05 * length_mm ? adapter({ ...asked, wrench_length_mm: length_mm }) : null
}

function requireAdapter(ctx: Context, id: string): queries.AdapterRow {
  const row = queries.adapterRow(ctx.read, id)
  if (row === undefined) throw notFound('adapter', id)
  return row
}

function toWire(row: queries.AdapterRow): Adapter {
  return { ...row, created_at: toInstant(row.created_at), updated_at: toInstant(row.updated_at) }
}

import { settingsOf } from '../../accounts/index.ts'
import { calibrationOn } from '../../core/fastening/calibration-on.ts'
import type { GaugeKind } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable, newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Gauge, GaugeCheck, GaugeCheckInput, GaugeInput, GaugePatch } from '../contract.ts'
import * as queries from '../queries.ts'
import { futureFaults, refuseTakenName } from './faults.ts'
import { today } from './state.ts'

/** What an angle is read from, as the rules of tightening take it. */
export interface GaugeFacts {
  id: string
  name: string
  kind: GaugeKind
  /** Expanded uncertainty (k = 2), its own or that of the settings; null after it was found outside: nothing is known then. */
  uncertainty_deg: number | null
}

/**
 * A gauge on a day. One that was never checked counts with its stated uncertainty; one that was found outside has none until
 * a later check is good. Undefined when there is no such gauge.
 */
export function gaugeFacts(ctx: Context, id: string, day: string): GaugeFacts | undefined {
  const row = queries.gaugeRow(ctx.read, id)
  return row && factsOf(ctx, row, day)
}

export interface GaugesForAngle {
  /** Usable, the smallest uncertainty first. */
  best_first: (GaugeFacts & { uncertainty_deg: number })[]
  /** Each other, with the reason against it in words. */
  out: { gauge: GaugeFacts; because: string }[]
  /** The uncertainty of the settings, which counts as long as no gauge is in the register; else null. */
  setting_deg: number | null
}

/** What the shop has to read an angle from on a day. */
export function gaugesForAngle(ctx: Context, on: string): GaugesForAngle {
  const all = queries.allGaugeRows(ctx.read).map(row => factsOf(ctx, row, on))
  const usable = all.flatMap(({ uncertainty_deg, ...gauge }) =>
    uncertainty_deg === null ? [] : [{ ...gauge, uncertainty_deg }],
  )
  return {
    best_first: usable.sort((one, other) => one.uncertainty_deg - other.uncertainty_deg),
    out: all
      .filter(gauge => gauge.uncertainty_deg === null)
      .map(gauge => ({ gauge, because: 'found outside at its last check' })),
    setting_deg: all.length === 0 ? settingsOf(ctx).gauge_uncertainty_deg : null,
  }
}

function factsOf(ctx: Context, row: queries.GaugeRow, day: string): GaugeFacts {
  const { id, name, kind } = row
  return { id, name, kind, uncertainty_deg: foundOutside(ctx, id, day) ? null : statedUncertainty(ctx, row) }
}

function foundOutside(ctx: Context, gaugeId: string, day: string): boolean {
  const checks = queries.checksOf(ctx.read, gaugeId).map(check => ({ ...check, points: [] }))
  return calibrationOn(checks, day)?.found === 'outside'
}

/** Its own, else what the settings say of its kind. */
export function statedUncertainty(
  ctx: Pick<Context, 'read'>,
  gauge: { kind: GaugeKind; uncertainty_deg?: number | null | undefined },
): number {
  const settings = settingsOf(ctx)
  const ofKind = gauge.kind === 'paint_mark' ? settings.paint_mark_uncertainty_deg : settings.gauge_uncertainty_deg
  return gauge.uncertainty_deg ?? ofKind
}

/** Owner. */
export function registerGauge(ctx: Context, input: GaugeInput): Gauge {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName('gauge', queries.allGaugeRows(ctx.read), input.name)
    const row = { ...newEditable(ctx), ...columns(input) }
    queries.insertGauge(tx, row)
    recordEvent(ctx, tx, { action: 'gauge.registered', table: 'gauges', id: row.id })
    return toWire(ctx, row)
  })
}

/** Owner. 412 when the record has moved on from `version`. */
export function updateGauge(ctx: Context, id: string, version: number, patch: GaugePatch): Gauge {
  authorise(ctx)
  return write(ctx, tx => {
    const row = requireGauge(ctx, id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(row), patch)
    refuseTakenName('gauge', queries.allGaugeRows(ctx.read), input.name, id)
    const changed = { ...row, ...columns(input), ...edited(ctx, row) }
    queries.updateGaugeRow(tx, changed)
    recordEvent(ctx, tx, { action: 'gauge.edited', table: 'gauges', id })
    return toWire(ctx, changed)
  })
}

/** 404 when there is none. */
export function gaugeById(ctx: Context, id: string): Gauge {
  return toWire(ctx, requireGauge(ctx, id))
}

/** By name. */
export function allGauges(ctx: Context): Gauge[] {
  return queries.allGaugeRows(ctx.read).map(row => toWire(ctx, row))
}

/** Technician or owner. One found outside is not used until a later check is good. */
export function recordGaugeCheck(ctx: Context, gaugeId: string, input: GaugeCheckInput): GaugeCheck {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    requireGauge(ctx, gaugeId)
    const faults = futureFaults(input.made_on, today(ctx))
    if (faults.length > 0) throw invalid(...faults)
    const row = { ...newRecord(ctx), gauge_id: gaugeId, ...input }
    queries.insertGaugeCheck(tx, row)
    recordEvent(ctx, tx, { action: 'gauge.checked', table: 'gauge_checks', id: row.id })
    return checkToWire(row)
  })
}

/** The latest first. 404 for an unknown gauge. */
export function checksOfGauge(ctx: Context, gaugeId: string): GaugeCheck[] {
  requireGauge(ctx, gaugeId)
  return queries.checksOf(ctx.read, gaugeId).map(checkToWire)
}

function requireGauge(ctx: Context, id: string): queries.GaugeRow {
  const row = queries.gaugeRow(ctx.read, id)
  if (row === undefined) throw notFound('gauge', id)
  return row
}

function columns({ name, kind, uncertainty_deg }: GaugeInput) {
  return { name, kind, uncertainty_deg: uncertainty_deg ?? null }
}

function toInput({ name, kind, uncertainty_deg }: queries.GaugeRow): GaugeInput {
  return { name, kind, ...withoutNulls({ uncertainty_deg }) }
}

function toWire(ctx: Context, row: queries.GaugeRow): Gauge {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  const checked_on = queries.checksOf(ctx.read, id)[0]?.made_on ?? null
  const trouble: Gauge['trouble'] = foundOutside(ctx, id, today(ctx)) ? ['found_outside'] : []
  return { id, created_at, created_by, updated_at, version, ...toInput(row), ...withoutNulls({ checked_on }), trouble }
}

function checkToWire(row: queries.GaugeCheckRow): GaugeCheck {
  return { ...row, created_at: toInstant(row.created_at) }
}

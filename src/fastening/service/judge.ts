import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { adapter } from '../../core/fastening/adapter.ts'
import { setVerdict } from '../../core/fastening/set-verdict.ts'
import { type Tolerance, tolerance } from '../../core/fastening/tolerance.ts'
import { verdict } from '../../core/fastening/verdict.ts'
import { wrenchUsable } from '../../core/fastening/wrench-usable.ts'
import { toSi } from '../../core/quantities.ts'
import type { Context } from '../../platform/context.ts'
import { type FieldError, invalid } from '../../platform/problems.ts'
import {
  adapterFacts,
  calibrationRule,
  gaugeFacts,
  type RegisteredWrench,
  wrenchFacts,
  wrenchState,
} from '../../tools/index.ts'
import type { TorqueRecordInput } from '../contract.ts'
import type { JointRow, TorqueRecordRow } from '../queries.ts'
import { wrenchCycles } from './activity.ts'

/** A reading and what it was made with, as it was typed. */
export type Reading = Pick<
  TorqueRecordInput,
  'value' | 'unit' | 'basis' | 'wrench_id' | 'gauge_id' | 'adapter_id' | 'adapter_angle_deg'
>

export type Judgement = Pick<
  TorqueRecordRow,
  'value_si' | 'lower' | 'upper' | 'uncertainty' | 'verdict' | 'conformance_probability'
>

const NO_JUDGEMENT: Judgement = {
  value_si: null,
  lower: null,
  upper: null,
  uncertainty: null,
  verdict: null,
  conformance_probability: null,
}

/**
 * The verdict of a reading, with the limits and the uncertainty that it was given by, so that it can be read for ever. An
 * event has none. `at` is where its fields stand in the body. 422 for an adapter on a wrench whose length nobody knows, and for
 * a tool in no register (`unknownTools` names them all).
 */
export function judged(
  ctx: Context,
  stage: JointRow['revision']['stages'][number],
  reading: Reading,
  madeAt: number,
  at = '',
): Judgement {
  const { value, unit } = reading
  if (value === undefined || unit === undefined) return NO_JUDGEMENT
  const settings = settingsOf(ctx)
  const limits = tolerance(stage, settings.default_tolerance_bp)
  const day = localDateOf(madeAt, settings.time_zone)
  if (unit !== 'deg') return judgedTorque(ctx, stage.target, limits, toSi(value, unit), reading, day, at)
  const uncertainty =
    reading.gauge_id === undefined ? settings.gauge_uncertainty_deg : gaugeUncertainty(ctx, reading.gauge_id, day, at)
  return measured(limits, value, uncertainty)
}

function measured({ lower, upper }: Tolerance, value: number, uncertainty: number | null): Judgement {
  return { value_si: value, lower, upper, uncertainty, ...verdict({ lower, upper, value, uncertainty }) }
}

/** The wrench, gauge and adapter that are in no register, each at its field. */
export function unknownTools(ctx: Context, { wrench_id, gauge_id, adapter_id }: Reading, at = ''): FieldError[] {
  return [
    ...(wrench_id !== undefined && wrenchFacts(ctx, wrench_id) === undefined ? [unknown(at, 'wrench')] : []),
    ...(gauge_id !== undefined && gaugeFacts(ctx, gauge_id, EVER) === undefined ? [unknown(at, 'gauge')] : []),
    ...(adapter_id !== undefined && adapterFacts(ctx, adapter_id) === undefined ? [unknown(at, 'adapter')] : []),
  ]
}

const EVER = '9999-12-31'

const HINTS = {
  wrench: ' Leave it out and say in wrench_note what was used: that is kept, and proves nothing.',
  gauge: '',
  adapter: '',
}

function unknown(at: string, what: 'wrench' | 'gauge' | 'adapter'): FieldError {
  const detail = `There is no ${what} with this id in the register.${HINTS[what]}`
  return { pointer: `${at}/${what}_id`, detail, code: 'unknown' }
}

/** One that was found outside on that day has no known uncertainty. */
function gaugeUncertainty(ctx: Context, gaugeId: string, day: string, at: string): number | null {
  const gauge = gaugeFacts(ctx, gaugeId, day)
  if (gauge === undefined) throw invalid(unknown(at, 'gauge'))
  return gauge.uncertainty_deg
}

/** The wrench is judged at its own value; value and uncertainty at the joint are what an adapter makes of them. */
function judgedTorque(
  ctx: Context,
  target: number,
  limits: Tolerance,
  ownNm: number,
  reading: Reading,
  day: string,
  at: string,
): Judgement {
  const wrench = wrenchAt(ctx, reading.wrench_id, ownNm, day, at)
  const factor = adapterFactor(ctx, wrench.facts, reading, at)
  const value = ownNm * factor
  const uncertainty = wrench.uncertainty === null ? null : wrench.uncertainty * factor
  if (reading.basis !== 'set') return measured(limits, value, uncertainty)
  const { lower, upper } = limits
  const set = setVerdict({
    set_nm: ownNm,
    stage_set_nm: target / factor,
    scale_division_nm: wrench.facts?.scale_division_nm ?? null,
    wrench_usable: wrench.usable,
    lower,
    upper,
    uncertainty,
  })
  return { value_si: value, lower, upper, uncertainty, verdict: set.verdict, conformance_probability: null }
}

/**
 * What a wrench was good for at a value on the day of the reading. One that is in no register, out of calibration, out of
 * use or out of its range has no known uncertainty: what it measures is kept, and conforms nowhere.
 */
function wrenchAt(ctx: Context, wrenchId: string | undefined, ownNm: number, day: string, at: string) {
  if (wrenchId === undefined) return { facts: null, usable: false, uncertainty: null }
  const state = wrenchState(ctx, wrenchId, day, wrenchCycles(ctx))
  if (state === undefined) throw invalid(unknown(at, 'wrench'))
  const usable = wrenchUsable(state.wrench, ownNm, day, calibrationRule(ctx)).length === 0
  return { facts: state.wrench, usable, uncertainty: usable ? state.uncertaintyAt(ownNm) : null }
}

/**
 * The torque at the joint over that of the wrench, (L + E·cos θ)/L: 1 without an adapter. (TM 9-254, fig. 4-6; with the hand
 * at the grip mark.)
 */
export function adapterFactor(
  ctx: Context,
  wrench: RegisteredWrench | null,
  { adapter_id, adapter_angle_deg = 0 }: Reading,
  at = '',
): number {
  if (adapter_id === undefined) return 1
  const facts = adapterFacts(ctx, adapter_id)
  const fault = (field: string, detail: string, code: string) => invalid({ pointer: `${at}/${field}`, detail, code })
  if (facts === undefined) throw invalid(unknown(at, 'adapter'))
  if (wrench === null)
    throw fault('wrench_id', 'Through an adapter the wrench must be known: its length decides the torque.', 'missing')
  if (wrench.length_mm === null)
    throw fault(
      'wrench_id',
      `Nobody has written down the length of wrench ${wrench.name} (drive to grip mark): without it the torque through an adapter is not known. Add it in the register, or use another wrench.`,
      'no_length',
    )
  const lengths = { wrench_length_mm: wrench.length_mm, adapter_length_mm: facts.length_mm }
  try {
    return 1 / adapter({ target_nm: 1, ...lengths, angle_deg: adapter_angle_deg })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    throw fault('adapter_angle_deg', 'At this angle the adapter reaches back past the hand.', 'does_not_fit')
  }
}

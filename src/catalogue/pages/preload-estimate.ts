import { z } from 'zod'
import { hexagonBearing } from '../../core/fastening/bearing-diameter.ts'
import { type Preload, preload } from '../../core/fastening/preload.ts'
import { usualFriction } from '../../core/fastening/usual-friction.ts'
import { check } from '../../platform/check.ts'
import { decode, type Habits } from '../../platform/forms/decode.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import type { Typed } from '../../platform/forms/names.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { formErrors } from '../../platform/forms/summary.ts'
import type { FieldView } from '../../platform/pages/field.ts'
import type { FieldError } from '../../platform/problems.ts'
import type { ProcedureRevision } from '../contract.ts'
import { boltOf, type KnownBolt } from '../rules/torque-sense.ts'
import { figure } from './procedure-words.ts'

/** What the estimate is asked with. Friction below 0.03 or above 0.6 is none that a bolt has. */
const Assumed = z.strictObject({
  mu_thread: z.number().min(0.03).max(0.6).meta({ title: 'Friction in the thread', classes: 'short' }),
  mu_head: z.number().min(0.03).max(0.6).meta({ title: 'Friction under the head', classes: 'short' }),
  bearing_diameter_mm: z
    .number()
    .positive()
    .max(1000)
    .meta({ title: 'Mean diameter under the head', unit: 'mm', classes: 'short' }),
})
type Assumed = z.infer<typeof Assumed>
const shape = shapeWhenNeeded(Assumed)

/** The same as the page's query: texts, so that what cannot be read comes back as it was typed. */
export const EstimateQuery = {
  mu_thread: z.string().max(40).optional(),
  mu_head: z.string().max(40).optional(),
  bearing_diameter_mm: z.string().max(40).optional(),
}

export interface EstimateView {
  /** Why there is none, in words. */
  none: string | null
  facts: { label: string; value: string; chief?: boolean; note?: string }[]
  cautions: string[]
  fields: Record<string, FieldView> | null
  assumed: string | null
}

/** The preload that the last torque stage leaves in a bolt, an estimate with its scatter, or why there is none. */
export function preloadEstimate(revision: ProcedureRevision, asked: Typed, habits: Habits): EstimateView {
  const torqueNm = decidingTorque(revision)
  const bolt = boltOf(revision)
  const none = typeof torqueNm === 'string' ? torqueNm : typeof bolt === 'string' ? bolt : null
  if (typeof torqueNm === 'string' || typeof bolt === 'string') {
    return { none, facts: [], cautions: [], fields: null, assumed: null }
  }
  const usual = usualValues(revision, bolt)
  const given = Object.fromEntries(Object.entries(asked).filter(([, text]) => String(text).trim() !== ''))
  const typed = { ...encode(usual.values, shape()), ...given }
  const read = check(Assumed, decode(typed, shape(), { habits }))
  const errors = read.ok ? sizeErrors(read.value, bolt) : read.errors
  const { byName } = formErrors(shape(), errors)
  const form = { fields: describe(shape(), { typed, errors: byName, habits }), assumed: usual.words }
  if (!read.ok || errors.length > 0) return { none: null, facts: [], cautions: [], ...form }
  const estimate = preload({ ...bolt, torque_nm: torqueNm, ...read.value })
  return { none: null, facts: factsOf(estimate, torqueNm), cautions: cautionsOf(estimate), ...form }
}

/** The torque that leaves the preload, or why none does. */
function decidingTorque({ stages }: ProcedureRevision): number | string {
  const last = stages.findLast(({ kind }) => kind !== 'check')
  if (last?.kind === 'torque') return last.target
  return last?.kind === 'loosen'
    ? 'It is loosened last: no torque says what is left.'
    : 'An angle comes last and decides the preload: no estimate by torque is possible.'
}

function usualValues({ finish, thread }: ProcedureRevision, { diameter_mm }: KnownBolt) {
  const { mu, from, to, surface } = usualFriction(finish)
  const { bearing_diameter_mm, tabulated } = hexagonBearing(diameter_mm)
  const values: Assumed = {
    mu_thread: mu,
    mu_head: mu,
    bearing_diameter_mm: Number(bearing_diameter_mm.toFixed(3)),
  }
  const source =
    finish === undefined ? 'common practice, no source' : `${from} to ${to} by VDI 2230, Table A5, from memory`
  const bearing = tabulated
    ? `that of a hexagon head (ISO 4014) on a medium hole (ISO 273), from memory`
    : '1.28 times the thread, common practice, no source'
  return {
    values,
    words: `Usual for ${surface}: ${mu} (${source}). The mean diameter for ${thread} is ${bearing}. A flanged or socket head bears elsewhere.`,
  }
}

function sizeErrors({ bearing_diameter_mm }: Assumed, { diameter_mm }: KnownBolt): FieldError[] {
  if (bearing_diameter_mm > diameter_mm) return []
  const detail = `A head bears outside its thread: more than ${figure(diameter_mm)} mm.`
  return [{ pointer: '/bearing_diameter_mm', detail, code: 'does_not_fit' }]
}

function factsOf(estimate: Preload, torqueNm: number): EstimateView['facts'] {
  const part = (force: number) => `${Math.round((100 * force) / estimate.proof_load_n)} %`
  return [
    {
      label: `Preload at ${figure(torqueNm)} N·m, about`,
      value: kilonewtons(estimate.preload_n),
      chief: true,
    },
    {
      label: 'Low to high',
      value: `${kilonewtons(estimate.preload_low_n)} to ${kilonewtons(estimate.preload_high_n)}`,
      note: 'a third either way: torque wrench, friction guessed (α_A = 2, VDI 2230)',
    },
    { label: 'Stress area', value: `${estimate.stress_area_mm2.toFixed(1)} mm²`, note: 'ISO 898-1' },
    { label: 'Proof load', value: kilonewtons(estimate.proof_load_n), note: 'ISO 898-1' },
    {
      label: 'Part of the proof load',
      value: part(estimate.preload_n),
      note: `${part(estimate.preload_low_n)} to ${part(estimate.preload_high_n)}`,
    },
  ]
}

function cautionsOf({ preload_n, preload_high_n, proof_load_n }: Preload): string[] {
  if (preload_n > proof_load_n) {
    return [
      'The estimate lies above the proof load of the bolt. Compare torque, unit, thread, class and lubrication with the maker’s manual before anybody tightens by this.',
    ]
  }
  return preload_high_n > proof_load_n ? ['At its high end the estimate passes the proof load of the bolt.'] : []
}

function kilonewtons(force: number): string {
  return `${Number((force / 1000).toPrecision(3))} kN`
}

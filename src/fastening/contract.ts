import { z } from 'zod'
import { LEAST_TORQUE } from '../core/fastening/least-torque.ts'
import { Line } from '../platform/contract.ts'

export * from './contract/doubt.ts'
export * from './contract/joint.ts'
export * from './contract/torque-record.ts'

const Newtonmetre = z.number().min(LEAST_TORQUE).max(100_000)
/** Nobody measures a bolt or a wrench finer than a hundredth. */
const Millimetre = z.number().min(0.01).max(10_000)

export const VerdictQuestion = z
  .strictObject({
    lower: z.number(),
    upper: z.number(),
    value: z.number(),
    uncertainty: z.number().nonnegative().nullable(),
  })
  .meta({ id: 'VerdictQuestion' })
export type VerdictQuestion = z.infer<typeof VerdictQuestion>

export const VerdictAnswer = z
  .strictObject({
    verdict: z.enum(['conforms', 'outside', 'unsure']),
    conformance_probability: z.number().nullable(),
  })
  .meta({ id: 'VerdictAnswer' })

export const SequenceQuestion = z
  .strictObject({
    layout: z.enum(['circle', 'row', 'rectangle']),
    count: z.int().positive().max(1000),
    rows: z.int().positive().max(1000).optional(),
  })
  .meta({ id: 'SequenceQuestion' })
export type SequenceQuestion = z.infer<typeof SequenceQuestion>

export const SequenceAnswer = z.strictObject({ order: z.array(z.int()) }).meta({ id: 'SequenceAnswer' })

export const AdapterQuestion = z
  .strictObject({
    target_nm: Newtonmetre,
    wrench_length_mm: Millimetre,
    adapter_length_mm: z.number().nonnegative().max(10_000),
    angle_deg: z.number().min(-360).max(360),
  })
  .meta({ id: 'AdapterQuestion' })
export type AdapterQuestion = z.infer<typeof AdapterQuestion>

export const AdapterAnswer = z.strictObject({ set_nm: z.number() }).meta({ id: 'AdapterAnswer' })

export const PreloadQuestion = z
  .strictObject({
    diameter_mm: Millimetre.max(200),
    pitch_mm: Millimetre.max(20),
    class: Line,
    torque_nm: Newtonmetre,
    mu_thread: z.number().nonnegative().max(2),
    mu_head: z.number().nonnegative().max(2),
    bearing_diameter_mm: Millimetre,
  })
  .meta({ id: 'PreloadQuestion' })
export type PreloadQuestion = z.infer<typeof PreloadQuestion>

/** An estimate of the joint, never an instruction: the maker's torque governs. Forces in N. */
export const PreloadAnswer = z
  .strictObject({
    stress_area_mm2: z.number(),
    preload_n: z.number(),
    preload_low_n: z.number(),
    preload_high_n: z.number(),
    proof_load_n: z.number(),
    utilisation: z.number(),
  })
  .meta({ id: 'PreloadAnswer' })

import { z } from 'zod'
import {
  BASES,
  FASTENER_EVENTS,
  SEVERITIES,
  SIGNING_AS,
  TIGHTENING_UNITS,
  type TighteningUnit,
  VERDICTS,
} from '../core/vocabulary.ts'
import { Id, Instant, Line, RecordFields } from '../platform/contract.ts'

/** Other ways to write the units, as in books and on wrenches; a record keeps the first way. */
const UNITS_ALSO_WRITTEN: ReadonlyMap<unknown, TighteningUnit> = new Map([
  ['N·m', 'N.m'],
  ['Nm', 'N.m'],
  ['kgf·m', 'kgf.m'],
  ['lbf·ft', 'lbf.ft'],
  ['lbf·in', 'lbf.in'],
  ['°', 'deg'],
])

/** A reading (value, unit, basis) or an event; never both. What is absent of `fastener` and `made_at` is the one at hand, and now. */
export const TorqueRecordInput = z
  .strictObject({
    position: z.int().positive().max(200).meta({ title: 'Position' }),
    stage: z.int().positive().max(20).meta({ title: 'Stage' }),
    fastener: z.int().positive().max(99).optional().meta({
      title: 'Fastener',
      description: '1 is the first at its position, 2 the one after a replacement',
    }),
    value: z.number().positive().max(5000).optional().meta({ title: 'Reading' }),
    unit: z
      .preprocess(unit => UNITS_ALSO_WRITTEN.get(unit) ?? unit, z.enum(TIGHTENING_UNITS).optional())
      .optional()
      .meta({ title: 'Unit', description: 'N·m, Nm, kgf·m, lbf·ft, lbf·in and ° are taken too.' }),
    basis: z.enum(BASES).optional().meta({ title: 'Measured, or set' }),
    wrench_id: Id.optional().meta({ title: 'Wrench' }),
    made_at: Instant.optional().meta({ title: 'Made at' }),
    out_of_order_reason: Line.optional().meta({ title: 'Why not in order' }),
    event: z.enum(FASTENER_EVENTS).optional().meta({ title: 'What happened' }),
    supersedes: Id.optional().meta({ title: 'Puts right the record' }),
    reason: Line.optional().meta({ title: 'Why it is put right' }),
  })
  .meta({ id: 'TorqueRecordInput' })
export type TorqueRecordInput = z.infer<typeof TorqueRecordInput>

export const TorqueRecord = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    position: z.int(),
    stage: z.int(),
    fastener: z.int(),
    value: z.number().optional(),
    unit: z.enum(TIGHTENING_UNITS).optional(),
    basis: z.enum(BASES).optional(),
    wrench_id: Id.optional(),
    made_at: Instant,
    out_of_order_reason: Line.optional(),
    event: z.enum(FASTENER_EVENTS).optional(),
    supersedes: Id.optional(),
    reason: Line.optional(),
    value_si: z.number().nullable(),
    lower: z.number().nullable(),
    upper: z.number().nullable(),
    uncertainty: z.number().nullable(),
    verdict: z.enum(VERDICTS).nullable(),
    conformance_probability: z.number().nullable(),
    recorded_at: Instant,
  })
  .meta({ id: 'TorqueRecord' })
export type TorqueRecord = z.infer<typeof TorqueRecord>

export const SignOffInput = z
  .strictObject({ as: z.enum(SIGNING_AS).meta({ title: 'Signing as' }) })
  .meta({ id: 'SignOffInput' })
export type SignOffInput = z.infer<typeof SignOffInput>

export const SignOff = z.strictObject({ ...RecordFields, joint_id: Id, as: z.enum(SIGNING_AS) }).meta({ id: 'SignOff' })
export type SignOff = z.infer<typeof SignOff>

/** One joint as it stands: derived from its records and sign-offs. */
export const Joint = z
  .strictObject({
    ...RecordFields,
    job_id: Id,
    name: Line,
    procedure_revision_id: Id,
    severity: z.enum(SEVERITIES),
    complete: z.boolean(),
    signed: z.boolean(),
    needs_second_person: z.boolean(),
    sentence: z.string(),
    next: z
      .strictObject({
        action: z.enum(['tighten', 'restart', 'replace']),
        position: z.int(),
        fastener: z.int(),
        stage: z.int(),
      })
      .nullable(),
  })
  .meta({ id: 'Joint' })
export type Joint = z.infer<typeof Joint>

const DOUBT_CAUSES = ['wrench', 'batch', 'procedure', 'correction'] as const

/** A joint that a bad wrench or a correction after hand-back touched, until somebody settles it. `since`: its first such record. */
export const Doubt = z
  .strictObject({
    id: z.string(),
    cause: z.enum(DOUBT_CAUSES),
    cause_id: Id,
    joint_id: Id,
    vehicle_id: Id,
    severity: z.enum(SEVERITIES),
    since: Instant,
    sentence: z.string(),
    settled: z.strictObject({ how: Line, note: Line.optional(), at: Instant, by: Id.nullable() }).nullable(),
  })
  .meta({ id: 'Doubt' })
export type Doubt = z.infer<typeof Doubt>

export const DoubtSettlementInput = z
  .strictObject({
    how: Line.meta({
      title: 'How it was settled',
      description: 'Looked at and tightened again, good check of the wrench',
    }),
    note: Line.optional().meta({ title: 'Note' }),
  })
  .meta({ id: 'DoubtSettlementInput' })
export type DoubtSettlementInput = z.infer<typeof DoubtSettlementInput>

export const DoubtSettlement = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    cause: z.enum(DOUBT_CAUSES),
    cause_id: Id,
    how: Line,
    note: Line.optional(),
  })
  .meta({ id: 'DoubtSettlement' })
export type DoubtSettlement = z.infer<typeof DoubtSettlement>

const Newtonmetre = z.number().positive().max(100_000)
const Millimetre = z.number().positive().max(10_000)

export const VerdictQuestion = z
  .strictObject({
    lower: z.number(),
    upper: z.number(),
    value: z.number(),
    uncertainty: z.number().nonnegative().nullable(),
  })
  .meta({ id: 'VerdictQuestion' })

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

export const SequenceAnswer = z.strictObject({ order: z.array(z.int()) }).meta({ id: 'SequenceAnswer' })

export const AdapterQuestion = z
  .strictObject({
    target_nm: Newtonmetre,
    wrench_length_mm: Millimetre,
    adapter_length_mm: z.number().nonnegative().max(10_000),
    angle_deg: z.number().min(-360).max(360),
  })
  .meta({ id: 'AdapterQuestion' })

export const AdapterAnswer = z.strictObject({ set_nm: z.number() }).meta({ id: 'AdapterAnswer' })

export const PreloadQuestion = z
  .strictObject({
    diameter_mm: z.number().positive().max(200),
    pitch_mm: z.number().positive().max(20),
    class: Line,
    torque_nm: Newtonmetre,
    mu_thread: z.number().nonnegative().max(2),
    mu_head: z.number().nonnegative().max(2),
    bearing_diameter_mm: Millimetre,
  })
  .meta({ id: 'PreloadQuestion' })

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

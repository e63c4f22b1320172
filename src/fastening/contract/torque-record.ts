import { z } from 'zod'
import { LEAST_TORQUE } from '../../core/fastening/least-torque.ts'
import { BASES, FASTENER_EVENTS, TIGHTENING_UNITS, type TighteningUnit, VERDICTS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, RecordFields } from '../../platform/contract.ts'

/** Other ways to write the units, as in books and on wrenches; a record keeps the first way. */
const UNITS_ALSO_WRITTEN: ReadonlyMap<unknown, TighteningUnit> = new Map([
  ['N·m', 'N.m'],
  ['Nm', 'N.m'],
  ['kgf·m', 'kgf.m'],
  ['lbf·ft', 'lbf.ft'],
  ['lbf·in', 'lbf.in'],
  ['°', 'deg'],
])

/** What was read or set, and with what. The value is the wrench's own: through an adapter the joint gets another torque. */
const ReadingFields = {
  value: z.number().min(LEAST_TORQUE).max(5000).optional().meta({ title: 'Reading' }),
  unit: z
    .preprocess(unit => UNITS_ALSO_WRITTEN.get(unit) ?? unit, z.enum(TIGHTENING_UNITS).optional())
    .optional()
    .meta({ title: 'Unit', description: 'N·m, Nm, kgf·m, lbf·ft, lbf·in and ° are taken too.' }),
  basis: z.enum(BASES).optional().meta({ title: 'Measured, or set' }),
  wrench_id: Id.optional().meta({ title: 'Wrench' }),
  wrench_note: Line.max(200).optional().meta({
    title: 'Wrench that is in no register',
    description: 'In your own words; what it shows is kept, and proves nothing',
  }),
  gauge_id: Id.optional().meta({ title: 'Gauge' }),
  adapter_id: Id.optional().meta({ title: 'Adapter' }),
  adapter_angle_deg: z.number().min(-180).max(180).optional().meta({
    title: 'Angle of the adapter',
    description: '0 lengthens the wrench, 90 changes nothing',
    unit: '°',
    classes: 'short',
  }),
}

/**
 * A reading (value, unit, basis) or an event; never both. What is absent of `fastener` and `made_at` is the one at hand, and
 * now. With `supersedes` it puts a record right: what it showed, or on which position it was; `withdrawn`, without reading and
 * event, says that it was not done at all.
 */
export const TorqueRecordInput = z
  .strictObject({
    position: z.int().positive().max(200).meta({ title: 'Position' }),
    stage: z.int().positive().max(20).meta({ title: 'Stage' }),
    fastener: z.int().positive().max(99).optional().meta({
      title: 'Fastener',
      description: '1 is the first at its position, 2 the one after a replacement',
    }),
    ...ReadingFields,
    made_at: Instant.optional().meta({ title: 'Made at' }),
    out_of_order_reason: Line.optional().meta({ title: 'Why not in order' }),
    event: z.enum(FASTENER_EVENTS).optional().meta({ title: 'What happened' }),
    supersedes: Id.optional().meta({ title: 'Puts right the record' }),
    reason: Line.optional().meta({ title: 'Why it is put right' }),
    withdrawn: z.boolean().optional().meta({ title: 'It was not done', description: 'The record that is put right' }),
  })
  .meta({ id: 'TorqueRecordInput' })
export type TorqueRecordInput = z.infer<typeof TorqueRecordInput>

/** `value_si` (N·m at the joint, or degrees) with the limits and the uncertainty there, which the verdict was given by. */
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
    wrench_note: Line.optional(),
    gauge_id: Id.optional(),
    adapter_id: Id.optional(),
    adapter_angle_deg: z.number().optional(),
    stage_as_set_id: Id.optional(),
    made_at: Instant,
    out_of_order_reason: Line.optional(),
    event: z.enum(FASTENER_EVENTS).optional(),
    supersedes: Id.optional(),
    reason: Line.optional(),
    withdrawn: z.boolean().optional(),
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

/** What is different at one position: its event, its own reading, or neither, when nothing is recorded there. */
const StageException = z.strictObject({
  position: TorqueRecordInput.shape.position,
  event: TorqueRecordInput.shape.event,
  ...ReadingFields,
})

/**
 * One setting of a click wrench for every fastener that still needs a stage. Absent `value` is what the wrench must be set to
 * for the stage (in `unit`, else N·m).
 */
export const StageAsSetInput = z
  .strictObject({
    stage: TorqueRecordInput.shape.stage,
    wrench_id: ReadingFields.wrench_id,
    value: ReadingFields.value.meta({ title: 'Set to' }),
    unit: ReadingFields.unit,
    adapter_id: ReadingFields.adapter_id,
    adapter_angle_deg: ReadingFields.adapter_angle_deg,
    exceptions: z.array(StageException).max(200).optional().meta({ title: 'Not these' }),
    made_at: TorqueRecordInput.shape.made_at,
  })
  .meta({ id: 'StageAsSetInput' })
export type StageAsSetInput = z.infer<typeof StageAsSetInput>

/** `left_out` are the fasteners that still need the stage and got no setting, each with the reason in words. */
export const StageAsSet = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    stage: z.int(),
    records: z.array(TorqueRecord),
    left_out: z.array(z.strictObject({ position: z.int(), sentence: z.string() })),
  })
  .meta({ id: 'StageAsSet' })
export type StageAsSet = z.infer<typeof StageAsSet>

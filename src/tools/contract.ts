import { z } from 'zod'
import { LEAST_TORQUE } from '../core/fastening/least-torque.ts'
import { CALIBRATION_RESULTS, GAUGE_KINDS, WRENCH_KINDS } from '../core/vocabulary.ts'
import { Day, Id, Instant, Line, MotoringDay, Name, patchOf, RecordFields } from '../platform/contract.ts'
import { EditableFields } from '../vehicles/contract.ts'

/** No hand tool goes further. */
const Torque = z.number().min(LEAST_TORQUE).max(5000)
/** A certificate may state points beyond the range. */
const PointTorque = z.number().min(LEAST_TORQUE).max(10_000)

export const WrenchInput = z
  .strictObject({
    name: Name.meta({ title: 'Name or number' }),
    kind: z.enum(WRENCH_KINDS).meta({ title: 'Kind', description: 'What it does at the torque', input: 'radios' }),
    min_nm: z
      .number()
      .nonnegative()
      .max(5000)
      .meta({ title: 'From', unit: 'N·m', classes: 'short', description: 'The lowest mark' }),
    max_nm: Torque.meta({ title: 'To', unit: 'N·m', classes: 'short' }),
    class: Name.max(60).optional().meta({
      title: 'Class after ISO 6789',
      description: 'As printed on it; it stands in for the uncertainty where there is no certificate',
      classes: 'medium',
    }),
    scale_division_nm: z
      .number()
      .min(LEAST_TORQUE)
      .max(1000)
      .optional()
      .meta({ title: 'One division of the scale', unit: 'N·m', classes: 'short' }),
    length_mm: z.number().positive().max(5000).optional().meta({
      title: 'Length, drive to grip mark',
      unit: 'mm',
      classes: 'short',
      description: 'Needed when an adapter is put on it',
    }),
  })
  .meta({ id: 'WrenchInput' })
export type WrenchInput = z.infer<typeof WrenchInput>
export const WrenchPatch = patchOf(WrenchInput).meta({ id: 'WrenchPatch' })
export type WrenchPatch = z.infer<typeof WrenchPatch>

/** Why a wrench may not be used today, whatever the torque. */
const WRENCH_TROUBLES = [
  'below_its_range',
  'above_its_range',
  'never_calibrated',
  'found_outside',
  'calibration_overdue',
  'cycles_used_up',
  'withdrawn',
] as const

/**
 * `due_on` is the last day of its calibration, absent where there is none; `cycles` how often it was used since that began;
 * `trouble` is what speaks against it today.
 */
export const Wrench = z
  .strictObject({
    ...EditableFields,
    ...WrenchInput.shape,
    due_on: Day.optional(),
    cycles: z.int().nonnegative().optional(),
    trouble: z.array(z.enum(WRENCH_TROUBLES)),
  })
  .meta({ id: 'Wrench' })
export type Wrench = z.infer<typeof Wrench>

/**
 * `uncertainty_nm` is the expanded uncertainty (k = 2) that the certificate states at that torque, in N·m; `reference_nm` what
 * the reference showed when the wrench was set to it, or showed it: what a joint got.
 */
export const CalibrationInput = z
  .strictObject({
    made_on: MotoringDay.meta({ title: 'Calibrated on', classes: 'short' }),
    certificate: Line.meta({ title: 'Certificate', description: 'Its number, and who made it' }),
    found: z.enum(CALIBRATION_RESULTS).meta({ title: 'It was found', input: 'radios' }),
    points: z
      .array(
        z.strictObject({
          at_nm: PointTorque.meta({ title: 'Wrench at', unit: 'N·m', classes: 'short' }),
          uncertainty_nm: PointTorque.meta({ title: 'Uncertainty U, k = 2', unit: 'N·m', classes: 'short' }),
          reference_nm: PointTorque.optional().meta({ title: 'Reference showed', unit: 'N·m', classes: 'short' }),
        }),
      )
      .max(50)
      .meta({ title: 'Points' }),
  })
  .meta({ id: 'CalibrationInput' })
export type CalibrationInput = z.infer<typeof CalibrationInput>

export const Calibration = z
  .strictObject({ ...RecordFields, wrench_id: Id, ...CalibrationInput.shape })
  .meta({ id: 'Calibration' })
export type Calibration = z.infer<typeof Calibration>

export const WithdrawalInput = z
  .strictObject({
    at: Instant.meta({ title: 'Out of use since', input: 'instant', classes: 'medium' }),
    reason: Line.meta({ title: 'Reason', description: 'A drop, an overload, a doubt' }),
  })
  .meta({ id: 'WithdrawalInput' })
export type WithdrawalInput = z.infer<typeof WithdrawalInput>

export const Withdrawal = z
  .strictObject({ ...RecordFields, wrench_id: Id, ...WithdrawalInput.shape })
  .meta({ id: 'Withdrawal' })
export type Withdrawal = z.infer<typeof Withdrawal>

export const GaugeInput = z
  .strictObject({
    name: Name.meta({ title: 'Name or number' }),
    kind: z.enum(GAUGE_KINDS).meta({ title: 'What the angle is read from', input: 'radios' }),
    uncertainty_deg: z.number().positive().max(45).optional().meta({
      title: 'Uncertainty U, k = 2',
      unit: '°',
      classes: 'short',
      description: 'Empty: that of the settings, for a gauge or for a paint mark',
    }),
  })
  .meta({ id: 'GaugeInput' })
export type GaugeInput = z.infer<typeof GaugeInput>
export const GaugePatch = patchOf(GaugeInput).meta({ id: 'GaugePatch' })
export type GaugePatch = z.infer<typeof GaugePatch>

/** `checked_on` is the day of its last check; `trouble` is what speaks against it today. */
export const Gauge = z
  .strictObject({
    ...EditableFields,
    ...GaugeInput.shape,
    checked_on: Day.optional(),
    trouble: z.array(z.enum(['found_outside'])),
  })
  .meta({ id: 'Gauge' })
export type Gauge = z.infer<typeof Gauge>

export const GaugeCheckInput = z
  .strictObject({
    made_on: MotoringDay.meta({ title: 'Checked on', classes: 'short' }),
    certificate: Line.meta({
      title: 'Against what',
      description: 'The certificate, or how it was checked and by whom',
    }),
    found: z.enum(CALIBRATION_RESULTS).meta({ title: 'It was found', input: 'radios' }),
  })
  .meta({ id: 'GaugeCheckInput' })
export type GaugeCheckInput = z.infer<typeof GaugeCheckInput>

export const GaugeCheck = z
  .strictObject({ ...RecordFields, gauge_id: Id, ...GaugeCheckInput.shape })
  .meta({ id: 'GaugeCheck' })
export type GaugeCheck = z.infer<typeof GaugeCheck>

export const AdapterInput = z
  .strictObject({
    name: Name.meta({ title: 'Name or number' }),
    length_mm: z.number().positive().max(2000).meta({
      title: 'Length, drive to drive',
      unit: 'mm',
      classes: 'short',
      description: 'From the middle of the wrench’s square to the middle of the fastener',
    }),
  })
  .meta({ id: 'AdapterInput' })
export type AdapterInput = z.infer<typeof AdapterInput>
export const AdapterPatch = patchOf(AdapterInput).meta({ id: 'AdapterPatch' })
export type AdapterPatch = z.infer<typeof AdapterPatch>

export const Adapter = z.strictObject({ ...EditableFields, ...AdapterInput.shape }).meta({ id: 'Adapter' })
export type Adapter = z.infer<typeof Adapter>

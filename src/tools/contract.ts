import { z } from 'zod'
import { CALIBRATION_RESULTS, WRENCH_KINDS } from '../core/vocabulary.ts'
import { Day, Id, Instant, Line, Name, patchOf, RecordFields } from '../platform/contract.ts'
import { EditableFields } from '../vehicles/contract.ts'

const Torque = z.number().positive().max(100_000)

export const WrenchInput = z
  .strictObject({
    name: Name.meta({ title: 'Name or number' }),
    kind: z.enum(WRENCH_KINDS).meta({ title: 'Kind', description: 'What it does at the torque', input: 'radios' }),
    min_nm: z
      .number()
      .nonnegative()
      .max(100_000)
      .meta({ title: 'From', unit: 'N·m', classes: 'short', description: 'The lowest mark' }),
    max_nm: Torque.meta({ title: 'To', unit: 'N·m', classes: 'short' }),
    class: Name.max(60).optional().meta({
      title: 'Class after ISO 6789',
      description: 'As printed on it; it stands in for the uncertainty where there is no certificate',
      classes: 'medium',
    }),
    scale_division_nm: z
      .number()
      .positive()
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

/** `due_on` is the last day of its calibration, absent where there is none; `trouble` is what speaks against it today. */
export const Wrench = z
  .strictObject({
    ...EditableFields,
    ...WrenchInput.shape,
    due_on: Day.optional(),
    trouble: z.array(z.enum(WRENCH_TROUBLES)),
  })
  .meta({ id: 'Wrench' })
export type Wrench = z.infer<typeof Wrench>

/** `uncertainty_nm` is the expanded uncertainty (k = 2) that the certificate states at that torque, in N·m. */
export const CalibrationInput = z
  .strictObject({
    made_on: Day.meta({ title: 'Calibrated on', classes: 'short' }),
    certificate: Line.meta({ title: 'Certificate', description: 'Its number, and who made it' }),
    found: z.enum(CALIBRATION_RESULTS).meta({ title: 'It was found', input: 'radios' }),
    points: z
      .array(
        z.strictObject({
          at_nm: Torque.meta({ title: 'At', unit: 'N·m', classes: 'short' }),
          uncertainty_nm: Torque.meta({ title: 'Uncertainty U, k = 2', unit: 'N·m', classes: 'short' }),
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

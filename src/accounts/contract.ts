import { z } from 'zod'
import { ROLES, TORQUE_UNITS } from '../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS } from '../core/words.ts'
import { BasisPoints, Id, Instant, Line, Name, Price, patchOf, RecordFields, Text } from '../platform/contract.ts'

/** Somebody who may sign something. A token of the API is a person of its own. */
export const Person = z
  .strictObject({ ...RecordFields, name: Name, role: z.enum(ROLES), kind: z.enum(['person', 'token']) })
  .meta({ id: 'Person' })
export type Person = z.infer<typeof Person>

export const PersonInput = z
  .strictObject({
    name: Name.meta({ title: 'Name', autocomplete: 'off' }),
    role: z.enum(ROLES).meta({
      title: 'Role',
      description: 'Desk takes in and agrees; a technician works and signs; the owner may do all.',
    }),
  })
  .meta({ id: 'PersonInput' })
export type PersonInput = z.infer<typeof PersonInput>

export const LoginInput = z.strictObject({
  name: z.string().min(1).max(200).meta({ title: 'Name', autocomplete: 'username' }),
  password: z
    .string()
    .min(1)
    .max(1000)
    .meta({ title: 'Password', input: 'password', autocomplete: 'current-password' }),
})
export type LoginInput = z.infer<typeof LoginInput>

/** Length is what makes a password hard to guess (NIST SP 800-63B-4, 3.1.1.2); no rule about its characters. */
const NewPassword = z.string().min(12).max(1000)

export const PasswordInput = z.strictObject({
  password: NewPassword.meta({
    title: 'New password',
    description: 'At least 12 characters; a few words in a row are good.',
    input: 'password',
    autocomplete: 'new-password',
  }),
})
export type PasswordInput = z.infer<typeof PasswordInput>

export const SetupInput = z.strictObject({
  name: Name.meta({ title: 'Your name', description: 'As it will stand under what you sign.', autocomplete: 'name' }),
  ...PasswordInput.shape,
})
export type SetupInput = z.infer<typeof SetupInput>

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name })
    return true
  } catch (error) {
    if (error instanceof RangeError) return false
    throw error
  }
}

function isLocale(tag: string): boolean {
  try {
    return Intl.getCanonicalLocales(tag).length === 1
  } catch (error) {
    if (error instanceof RangeError) return false
    throw error
  }
}

const CURRENCIES = new Set(Intl.supportedValuesOf('currency'))

/** What the workshop decides once. The numbers are defaults until the owner says otherwise. */
export const SettingsInput = z
  .strictObject({
    name: Name.meta({ title: 'Name of the workshop' }),
    place: Name.optional().meta({ title: 'Place', description: 'Stands beside the name on every page.' }),
    address: Line.optional().meta({ title: 'Address', description: 'As it stands at the foot of everything printed.' }),
    invoice_note: Text.max(1000).optional().meta({
      title: 'On every invoice',
      description: 'How to pay, tax number, what your local rules ask for. Local law decides what must stand there.',
      input: 'textarea',
    }),
    time_zone: z
      .string()
      .max(100)
      .refine(isTimeZone, 'This must be a time zone, such as Europe/Lisbon.')
      .meta({ title: 'Time zone', classes: 'medium' }),
    locale: z.string().max(35).refine(isLocale, 'This must be a language tag, such as en-GB.').meta({
      title: 'How numbers and days are written',
      description: 'A language tag, such as en-GB.',
      classes: 'short',
    }),
    currency: z
      .string()
      .refine(code => CURRENCIES.has(code), 'This must be the three letters of a currency, such as EUR.')
      .meta({ title: 'Currency', classes: 'short' }),
    labour_rate_minor: Price.max(100_000_000).meta({
      title: 'Labour, an hour, to the customer',
      input: 'money',
      classes: 'short',
    }),
    cost_rate_minor: Price.max(100_000_000).meta({
      title: 'Labour, an hour, what it costs you',
      input: 'money',
      classes: 'short',
    }),
    our_share_bp: BasisPoints.meta({
      title: 'Share of a late failure’s cost that you bear',
      description: 'Used where the program weighs doing something now against doing it later.',
      input: 'percent',
      classes: 'short',
    }),
    tax_bp: BasisPoints.meta({ title: 'Usual tax', input: 'percent', classes: 'short' }),
    default_tolerance_bp: BasisPoints.meta({
      title: 'Tolerance where a procedure gives none',
      description: 'The maker’s manual comes first.',
      input: 'percent',
      classes: 'short',
    }),
    gauge_uncertainty_deg: z
      .number()
      .nonnegative()
      .max(90)
      .meta({ title: 'Uncertainty of the angle gauge', unit: '°', classes: 'short' }),
    warranty_days: z.int().min(0).max(36_500).meta({ title: 'Warranty on work', unit: 'days', classes: 'short' }),
    warranty_km: z
      .int()
      .min(0)
      .max(10_000_000)
      .meta({ title: 'Warranty on work, distance', unit: 'km', classes: 'short' }),
    comeback_window_days: z.int().min(0).max(36_500).meta({
      title: 'Comeback window',
      description: 'For jobs without a warranty of their own.',
      unit: 'days',
      classes: 'short',
    }),
    torque_unit: z.enum(TORQUE_UNITS).meta({
      title: 'Torque is written in',
      description: 'At the bench; what was typed in another unit is kept as it was typed.',
      labels: TORQUE_UNIT_WORDS,
      classes: 'short',
    }),
    paint_mark_uncertainty_deg: z
      .number()
      .nonnegative()
      .max(90)
      .meta({ title: 'Uncertainty of an angle read from a paint mark', unit: '°', classes: 'short' }),
    stage_as_set_on_safety: z.boolean().meta({
      title: 'A whole stage may be recorded as set on a safety joint',
      description: 'Otherwise each of its fasteners is recorded by itself.',
    }),
    look_again_after_minutes: z.int().min(1).max(10_080).optional().meta({
      title: 'One-person workshop: whoever tightened may look again after',
      description: 'Leave it empty where another person always looks. The record says that it was the same person.',
      unit: 'min',
      classes: 'short',
    }),
    calibration_months: z.int().min(1).max(120).meta({
      title: 'A wrench is calibrated every',
      description: 'ISO 6789: 12 months or 5 000 cycles, whichever is first.',
      unit: 'months',
      classes: 'short',
    }),
    calibration_cycles: z.int().min(1).max(1_000_000).meta({
      title: 'or after',
      unit: 'cycles',
      classes: 'short',
    }),
  })
  .meta({ id: 'SettingsInput' })
export type SettingsInput = z.infer<typeof SettingsInput>

export const SettingsPatch = patchOf(SettingsInput).meta({ id: 'SettingsPatch' })
export type SettingsPatch = z.infer<typeof SettingsPatch>

/** `created_at` is null, and the version 0, while the defaults hold. */
export const Settings = z
  .strictObject({ id: Id, created_at: Instant.nullable(), created_by: Id.nullable(), ...SettingsInput.shape })
  .meta({ id: 'Settings' })
export type Settings = z.infer<typeof Settings>

export const DEFAULT_SETTINGS: SettingsInput = {
  name: 'Our workshop',
  time_zone: 'UTC',
  locale: 'en-GB',
  currency: 'EUR',
  labour_rate_minor: 6000,
  cost_rate_minor: 4000,
  our_share_bp: 10_000,
  tax_bp: 2000,
  default_tolerance_bp: 500,
  gauge_uncertainty_deg: 2,
  warranty_days: 365,
  warranty_km: 20_000,
  comeback_window_days: 90,
  torque_unit: 'N.m',
  paint_mark_uncertainty_deg: 5,
  stage_as_set_on_safety: true,
  calibration_months: 12,
  calibration_cycles: 5000,
}

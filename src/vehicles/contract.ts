import { z } from 'zod'
import { ODOMETER_UNITS } from '../core/vocabulary.ts'
import { Day, Id, Instant, Line, MotoringDay, Name, patchOf, RecordFields, Text } from '../platform/contract.ts'

/** What every record that people edit has besides: its `version` is its ETag. */
export const EditableFields = { ...RecordFields, updated_at: Instant, version: z.int().positive() }

/** Something worth a second look that stops nobody: the field, and what is odd about it. */
export const Warning = z.strictObject({ field: z.string(), detail: z.string() }).meta({ id: 'Warning' })
export type Warning = z.infer<typeof Warning>

export const CustomerInput = z
  .strictObject({
    name: Name.meta({ title: 'Name' }),
    phone: Name.max(60).optional().meta({ title: 'Telephone', input: 'tel', classes: 'medium' }),
    email: z.email().max(200).optional().meta({ title: 'E-mail', input: 'email' }),
    address: Text.max(1000).optional().meta({ title: 'Address', input: 'textarea' }),
    note: Text.optional().meta({ title: 'Note', input: 'textarea' }),
  })
  .meta({ id: 'CustomerInput' })
export type CustomerInput = z.infer<typeof CustomerInput>

export const CustomerPatch = patchOf(CustomerInput).meta({ id: 'CustomerPatch' })
export type CustomerPatch = z.infer<typeof CustomerPatch>

export const Customer = z.strictObject({ ...EditableFields, ...CustomerInput.shape }).meta({ id: 'Customer' })
export type Customer = z.infer<typeof Customer>

export const CustomerErasureInput = z
  .strictObject({ reason: Line.meta({ title: 'Why', description: 'At whose wish, and when it was asked for' }) })
  .meta({ id: 'CustomerErasureInput' })
export type CustomerErasureInput = z.infer<typeof CustomerErasureInput>

export const CustomerErasure = z
  .strictObject({ ...RecordFields, customer_id: Id, reason: Line })
  .meta({ id: 'CustomerErasure' })
export type CustomerErasure = z.infer<typeof CustomerErasure>

const Plate = Name.max(40)

/**
 * `family` and `variant` are names, made when they are new; one that differs from a known name in case only is that name.
 * Only 17 characters are judged as a VIN, and what is odd about them warns and never refuses.
 */
export const VehicleInput = z
  .strictObject({
    plate: Plate.optional().meta({ title: 'Registration', classes: 'medium plate-field' }),
    family: Name.meta({ title: 'Family', description: 'Make and model that share procedures' }),
    variant: Name.optional().meta({ title: 'Variant', description: 'A difference inside the family that matters' }),
    vin: Plate.optional().meta({ title: 'VIN', classes: 'medium' }),
    frame_number: Plate.optional().meta({ title: 'Frame number', classes: 'medium' }),
    engine_number: Plate.optional().meta({ title: 'Engine number', classes: 'medium' }),
    odometer_unit: z
      .enum(ODOMETER_UNITS)
      .meta({ title: 'The odometer shows', input: 'radios', labels: { km: 'kilometres', mi: 'miles' } }),
    first_registered_on: MotoringDay.optional().meta({ title: 'First registered on', classes: 'short' }),
    keeper_id: Id.optional().meta({ title: 'Keeper' }),
  })
  .meta({ id: 'VehicleInput' })
export type VehicleInput = z.infer<typeof VehicleInput>

export const VehiclePatch = patchOf(VehicleInput).meta({ id: 'VehiclePatch' })
export type VehiclePatch = z.infer<typeof VehiclePatch>

/** `imported_as` is the text that named it in an imported history. */
export const Vehicle = z
  .strictObject({
    ...EditableFields,
    ...VehicleInput.shape,
    first_registered_on: Day.optional(),
    imported_as: z.string().optional(),
    warnings: z.array(Warning),
  })
  .meta({ id: 'Vehicle' })
export type Vehicle = z.infer<typeof Vehicle>

/** The pages' form for a vehicle; who keeps it has a form of its own. */
export const VehicleForm = VehicleInput.omit({ keeper_id: true })

/** The desk's form for a new vehicle, with the customer who keeps it: one that is known, or one that is new, too. */
export const NewVehicleForm = z.strictObject({ ...VehicleInput.shape, customer: CustomerInput.optional() })

/** Whose it is now: the id of a customer, or `nobody`; or somebody new. */
export const KeeperForm = z.strictObject({
  keeper: Id.optional().meta({ title: 'Keeper', input: 'radios' }),
  customer: CustomerInput.optional(),
})

/** A change of keeper; without `customer_id` nobody is known since then. */
export const Keeper = z
  .strictObject({ ...RecordFields, vehicle_id: Id, customer_id: Id.optional() })
  .meta({ id: 'Keeper' })
export type Keeper = z.infer<typeof Keeper>

export const OdometerReadingInput = z
  .strictObject({
    on: MotoringDay.meta({ title: 'Read on', classes: 'short' }),
    distance_km: z
      .number()
      .nonnegative()
      .max(10_000_000)
      .meta({ title: 'Odometer', in_thousands: true, unit: 'km', classes: 'short' }),
    display_replaced: z.boolean().optional().meta({ title: 'The instrument was replaced' }),
  })
  .meta({ id: 'OdometerReadingInput' })
export type OdometerReadingInput = z.infer<typeof OdometerReadingInput>

export const OdometerReading = z
  .strictObject({
    ...RecordFields,
    vehicle_id: Id,
    on: Day,
    distance_km: z.number(),
    display_replaced: z.boolean(),
    warnings: z.array(Warning),
  })
  .meta({ id: 'OdometerReading' })
export type OdometerReading = z.infer<typeof OdometerReading>

export const NamedRecord = z.strictObject({ ...RecordFields, name: z.string() }).meta({ id: 'NamedRecord' })
export type NamedRecord = z.infer<typeof NamedRecord>

export const CheckVinInput = z.strictObject({ vin: Line.meta({ title: 'VIN' }) }).meta({ id: 'CheckVinInput' })

/** `decided` is the model year that position 7 names for cars and light vehicles; the code repeats after 30 years. */
export const VinFacts = z
  .strictObject({
    valid_form: z.boolean(),
    check_digit: z.strictObject({ expected: z.string(), actual: z.string(), ok: z.boolean() }).nullable(),
    model_years: z.array(z.int()),
    decided: z.int().nullable(),
  })
  .meta({ id: 'VinFacts' })
export type VinFacts = z.infer<typeof VinFacts>

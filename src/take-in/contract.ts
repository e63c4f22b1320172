import { z } from 'zod'
import { ARRIVALS, WORK_ORDER_STATES } from '../core/vocabulary.ts'
import { AdviceTelling, Finding, PriorWorkInput } from '../findings/contract.ts'
import { HandBack } from '../hand-back/contract.ts'
import { Id, Instant, Line, MinorMoney, MotoringDay, Name, Price, Reason, Text } from '../platform/contract.ts'
import { Customer, CustomerInput, Vehicle, VehicleInput } from '../vehicles/contract.ts'
import {
  ArrivalFields,
  Authorisation,
  Estimate,
  EstimateInput,
  EstimateLine,
  Talk,
  WorkOrderInput,
  WorkOrderRecord,
} from '../work-orders/contract.ts'

/**
 * A work order as it stands. `flags` are what the record said when the vehicle came in, `blockers` what keeps it from being
 * handed back, `to_ask` what stops nothing and is asked first: was a job done that nobody has called done? All three are
 * empty once it has left. The amounts include tax.
 */
export const WorkOrder = z
  .strictObject({
    ...WorkOrderRecord.shape,
    state: z.enum(WORK_ORDER_STATES),
    flags: z.array(Reason),
    blockers: z.array(Reason),
    to_ask: z.array(Reason),
    total_minor: MinorMoney,
    agreed_minor: MinorMoney,
  })
  .meta({ id: 'WorkOrder' })
export type WorkOrder = z.infer<typeof WorkOrder>

export const WorkOrdersQuery = z.strictObject({
  state: z.enum(WORK_ORDER_STATES).optional().meta({ title: 'State' }),
})

export const FindQuery = z.strictObject({
  q: z.string().max(200).meta({ title: 'Find', description: 'Registration, number, name, telephone' }),
})

/** What the one box finds; vehicles by any of their numbers or their keeper, customers, and an order by its number. */
export const FoundInBox = z
  .strictObject({ work_orders: z.array(WorkOrder), vehicles: z.array(Vehicle), customers: z.array(Customer) })
  .meta({ id: 'FoundInBox' })
export type FoundInBox = z.infer<typeof FoundInBox>

/** All that is written down of one person; what was done on vehicles stands in their history, which names nobody. */
export const PersonalData = z
  .strictObject({
    customer: Customer,
    vehicles: z.array(
      z.strictObject({
        vehicle_id: Id,
        ...VehicleInput.pick({ family: true, plate: true, vin: true, frame_number: true, engine_number: true }).shape,
        since: Instant,
        until: Instant.optional(),
      }),
    ),
    work_orders: z.array(
      z.strictObject({
        ...WorkOrderRecord.shape,
        findings: z.array(Finding),
        advice_tellings: z.array(AdviceTelling),
        talks: z.array(Talk),
        estimates: z.array(Estimate),
        authorisations: z.array(Authorisation),
        hand_back: HandBack.optional(),
      }),
    ),
  })
  .meta({ id: 'PersonalData' })
export type PersonalData = z.infer<typeof PersonalData>

const Symptoms = z.array(Name).max(20).optional().meta({ title: 'Symptom' })
const Odometer = z
  .number()
  .nonnegative()
  .max(10_000_000)
  .optional()
  .meta({ title: 'Odometer', in_thousands: true, classes: 'short' })

const When = Line.optional().meta({
  title: 'When',
  description: 'A day, a month or a year: 2029-02-12, February 2029, 2029',
})
const Evidence = Line.optional().meta({ title: 'How we know', description: 'Invoice seen, owner says, fresh sealant' })
const By = PriorWorkInput.shape.by

/** Work that others did, as the desk writes it down: its day may be rough, or left out. */
export const PriorWorkForm = z.strictObject({
  operation: Name.meta({ title: 'What was done', description: 'An operation of the catalogue, or a new name' }),
  by: By,
  when: When,
  evidence: Evidence,
})
export type PriorWorkForm = z.infer<typeof PriorWorkForm>

/** What the desk fills in when a vehicle comes: the odometer as it shows, the customer known or new. */
export const TakeInForm = z.strictObject({
  vehicle_id: Id.meta({ input: 'hidden' }),
  customer_id: Id.optional().meta({ title: 'Who brings it', input: 'radios' }),
  customer: CustomerInput.pick({ name: true, phone: true }).optional(),
  keeps_it: z.boolean().optional().meta({ title: 'Keeps it from now on' }),
  second_stay: z.boolean().optional().meta({ title: 'It is a second stay all the same' }),
  complaint: Text.meta({ title: 'Complaint, in the customer’s own words', input: 'textarea' }),
  symptoms: Symptoms,
  odometer: Odometer,
  promised_on: WorkOrderInput.shape.promised_on.unwrap().optional().meta({ title: 'Wanted back', classes: 'short' }),
  arrived: z.enum(ARRIVALS).meta({ title: 'How it came', input: 'radios' }),
  arrival_note: Text.optional().meta({
    title: 'What else was seen',
    description: 'Warning lamps, leaks, what it was brought with',
    input: 'textarea',
  }),
  place: WorkOrderInput.shape.place,
  ...ArrivalFields,
  prior_works: z
    .array(
      z.strictObject({
        operation: Name.meta({ title: 'What was done' }),
        by: By.optional(),
        when: When,
        evidence: Evidence,
      }),
    )
    .max(10)
    .optional()
    .meta({ title: 'Work by others' }),
})
export type TakeInForm = z.infer<typeof TakeInForm>

/** A vehicle that nobody has seen here before, and whoever brings it. */
export const NewcomerForm = z.strictObject({
  ...VehicleInput.omit({ keeper_id: true }).shape,
  customer_id: Id.optional().meta({ input: 'hidden' }),
  customer: CustomerInput.optional(),
  another_vehicle: z.boolean().optional().meta({ title: 'It is another vehicle all the same' }),
  another_person: z.boolean().optional().meta({ title: 'It is somebody else all the same' }),
})
export type NewcomerForm = z.infer<typeof NewcomerForm>

/** What can be put right about a stay; the odometer as it shows. */
export const StayForm = z.strictObject({
  complaint: TakeInForm.shape.complaint,
  symptoms: Symptoms,
  odometer: Odometer,
  promised_on: TakeInForm.shape.promised_on,
  arrived: TakeInForm.shape.arrived,
  arrival_note: TakeInForm.shape.arrival_note,
  place: TakeInForm.shape.place,
  ...ArrivalFields,
})
export type StayForm = z.infer<typeof StayForm>

export const OdometerForm = z.strictObject({
  on: MotoringDay.meta({ title: 'Read on', classes: 'short' }),
  odometer: Odometer.unwrap().meta({ title: 'Odometer', in_thousands: true, classes: 'short' }),
  display_replaced: z.boolean().optional().meta({ title: 'The instrument was replaced' }),
})

export const LeftForLaterForm = z.strictObject({
  text: Text.meta({ title: 'What was advised', input: 'textarea' }),
  amount_minor: Price.optional().meta({ title: 'Priced now at', input: 'money', classes: 'short' }),
})

/** A new version of the estimate. A line left empty is none; without a kind it is labour, without tax the usual tax. */
export const EstimateForm = z.strictObject({
  lines: z
    .array(
      z.strictObject({
        ...EstimateLine.shape,
        kind: EstimateLine.shape.kind.optional().meta({ title: 'Kind' }),
        tax_bp: EstimateLine.shape.tax_bp.optional().meta({ title: 'Tax' }),
      }),
    )
    .min(1, 'Write at least one line.')
    .max(200)
    .meta({ title: 'Line' }),
  discount_minor: EstimateInput.shape.discount_minor,
})
export type EstimateForm = z.infer<typeof EstimateForm>

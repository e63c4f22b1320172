import { z } from 'zod'
import { ARRIVALS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, MotoringDay, Name, patchOf, RecordFields, Text } from '../../platform/contract.ts'
import { OdometerKm } from './bounds.ts'

/** What an order is opened with. `symptoms` are unique names; an unknown one is created. */
export const WorkOrderInput = z
  .strictObject({
    vehicle_id: Id,
    customer_id: Id,
    complaint: Text.meta({ title: 'Complaint', description: "In the customer's own words." }),
    symptoms: z.array(Name).max(20).meta({ title: 'Symptoms' }),
    odometer_km: OdometerKm.optional(),
    arrived: z.enum(ARRIVALS).meta({ title: 'How it came', input: 'radios' }),
    arrival_note: Text.optional().meta({ title: 'Shape it arrived in' }),
    promised_on: MotoringDay.optional().meta({ title: 'Wanted back on' }),
    place: Line.optional().meta({ title: 'Where it is' }),
  })
  .meta({ id: 'WorkOrderInput' })
export type WorkOrderInput = z.infer<typeof WorkOrderInput>

/** The vehicle stays: what was done belongs to it. Another vehicle is another order. */
export const WorkOrderPatch = patchOf(WorkOrderInput.omit({ vehicle_id: true })).meta({ id: 'WorkOrderPatch' })
export type WorkOrderPatch = z.infer<typeof WorkOrderPatch>

/** What was written down of an order; its state, blockers and flags are added by what comes after. */
export const WorkOrderRecord = z.strictObject({
  ...RecordFields,
  updated_at: Instant,
  version: z.int().positive(),
  number: z.string(),
  ...WorkOrderInput.shape,
})
export type WorkOrderRecord = z.infer<typeof WorkOrderRecord>

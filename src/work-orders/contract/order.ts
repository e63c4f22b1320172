import { z } from 'zod'
import { ARRIVALS, OLD_PARTS_WISHES } from '../../core/vocabulary.ts'
import { Id, Instant, Line, MotoringDay, Name, patchOf, RecordFields, Text } from '../../platform/contract.ts'
import { OdometerKm } from './bounds.ts'

/** How a vehicle came, written down while the customer stands there; what was left with it is asked for again at hand-back. */
export const ArrivalFields = {
  damage: Text.optional().meta({ title: 'Damage it came with' }),
  fuel: Line.optional().meta({ title: 'Fuel', description: 'A quarter, half, full' }),
  belongings: Line.optional().meta({ title: 'Left inside', description: 'Asked for again when it is handed back' }),
  keys: Line.optional().meta({ title: 'Keys', description: 'How many, and which tag is on them' }),
  old_parts: z
    .enum(OLD_PARTS_WISHES)
    .optional()
    .meta({
      title: 'Replaced parts',
      input: 'radios',
      labels: { give_back: 'The customer wants them', throw_away: 'The customer does not want them' },
    }),
  odometer_unread: Line.optional().meta({ title: 'If it was not read: why', description: 'Display dark, no key' }),
}

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
    ...ArrivalFields,
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

import { z } from 'zod'
import { DOERS, HISTORY_EVENTS } from '../core/vocabulary.ts'

/** Where an event of a vehicle's life is recorded. */
const HISTORY_SOURCES = ['history_events', 'odometer_readings', 'prior_works', 'jobs', 'findings'] as const

/**
 * One row of the history format as JSON; null where a cell would be empty. `id` is the file's own where it had one, else
 * that of the record; `comeback_of` is such an `id`. `source` and `record_id` say where it is recorded.
 */
export const HistoryEvent = z
  .strictObject({
    vehicle: z.string(),
    family: z.string(),
    date: z.string().nullable(),
    distance: z.number().nullable(),
    event: z.enum(HISTORY_EVENTS),
    by: z.enum(DOERS).nullable(),
    operation: z.string().nullable(),
    component: z.string().nullable(),
    failure_mode: z.string().nullable(),
    symptom: z.string().nullable(),
    hours: z.number().nullable(),
    labour_minor: z.number().nullable(),
    parts_minor: z.number().nullable(),
    warranty_days: z.number().nullable(),
    warranty_km: z.number().nullable(),
    first_registered_on: z.string().nullable(),
    comeback_of: z.string().nullable(),
    id: z.string(),
    note: z.string().nullable(),
    source: z.enum(HISTORY_SOURCES),
    record_id: z.string(),
  })
  .meta({ id: 'HistoryEvent' })
export type HistoryEvent = z.infer<typeof HistoryEvent>

export const VehicleHistory = z.strictObject({ events: z.array(HistoryEvent) }).meta({ id: 'VehicleHistory' })
export type VehicleHistory = z.infer<typeof VehicleHistory>

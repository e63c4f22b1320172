import type { RecurrenceUnit } from './mean-cumulative-function.ts'
import { type Clock, type LifeRecord, PLACES, type VehicleLife } from './vehicle-life.ts'
import { vehicleTime } from './vehicle-time.ts'

/** A vehicle's life with what its registration says of its age. */
export interface RegisteredLife extends VehicleLife {
  /** The day of first registration, or null. */
  firstRegisteredDay: number | null
}

/**
 * One vehicle as a unit of the mean cumulative function. Age zero is its `in_service` record; failing that its first
 * registration (by distance the odometer itself), and it then enters at its first record only. It ends at its last dated
 * record.
 *
 * @param isEvent which records recur; only dated ones are asked about.
 * @returns ages in days or km; null for a vehicle whose age zero, or whose time on this clock, nobody knows.
 */
export function recurrenceUnit(
  life: RegisteredLife,
  clock: Clock,
  asOf: number,
  isEvent: (record: LifeRecord) => boolean,
): RecurrenceUnit | null {
  const clocked = vehicleTime(life.records, clock, asOf)
  if (clocked === null) return null
  const { placeOf, firstDay, lastDay } = clocked
  let inServiceDay: number | null = null
  for (const { kind, day } of life.records) {
    if (kind === 'in_service' && day <= asOf && (inServiceDay === null || day < inServiceDay)) inServiceDay = day
  }
  if (inServiceDay === null && (life.firstRegisteredDay === null || life.firstRegisteredDay > asOf)) return null
  const registered = clock === 'days' ? (life.firstRegisteredDay ?? 0) : 0
  const zero = inServiceDay === null ? registered : placeOf(inServiceDay)
  const places = PLACES[clock]
  const events: number[] = []
  for (const record of life.records) {
    if (record.day !== null && record.day <= asOf && isEvent(record)) events.push((placeOf(record.day) - zero) / places)
  }
  return {
    entry: inServiceDay === null ? Math.max(0, (placeOf(firstDay) - zero) / places) : 0,
    end: (placeOf(lastDay) - zero) / places,
    events,
  }
}

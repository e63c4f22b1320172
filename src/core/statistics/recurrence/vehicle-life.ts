import type { Doer } from '../../vocabulary.ts'

/** What a history is measured along: calendar days, or distance driven. */
export type Clock = 'days' | 'distance'

/**
 * How many places of a clock make one day, or one km. Places are whole numbers, days or millimetres: readings filled in
 * by straight lines would otherwise be equal on paper and apart by a rounding error, and ties decide what is exposed.
 */
export const PLACES = { days: 1, distance: 1_000_000 } as const

/**
 * One record of a vehicle's life. `day` counts from 1970-01-01 (`dayNumber`); `km` is the odometer at the record, null
 * when it was not read; `operation` and `failure` are numbers the caller knows the names of (a failure is a component
 * with its failure mode, an empty mode being one of its own).
 */
export type LifeRecord =
  | { kind: 'in_service'; day: number; km: number | null }
  | { kind: 'seen'; day: number; km: number | null; display_replaced?: boolean }
  | { kind: 'work'; day: number | null; km: number | null; operation: number; by: Doer }
  | { kind: 'failure'; day: number; km: number | null; failure: number; cost_minor: number | null }

/** All that is known of one vehicle, in any order. */
export interface VehicleLife {
  /** The caller's own word for the vehicle. */
  vehicle: string | number
  /** The stratum: a number the caller knows the name of. */
  family: number
  records: readonly LifeRecord[]
}

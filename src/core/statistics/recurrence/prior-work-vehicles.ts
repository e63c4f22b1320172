import type { Doer } from '../../vocabulary.ts'
import { type ExposureOptions, exposure } from './exposure.ts'
import { PLACES, type VehicleLife } from './vehicle-life.ts'

/** One vehicle behind a pair, with its exposed failures: on which day, how long after which work (days or km). */
export interface VehicleBehindPair {
  vehicle: string | number
  failures: { day: number; at: number; delay: number | null; by: Doer }[]
}

/**
 * The vehicles behind a pair that `priorWork` counted: those on which the failure fell into the exposed time of the
 * operation, so that a person can look each of them up.
 *
 * @param vehicles read once, one at a time.
 * @param options those the pair was counted with.
 * @returns vehicles in the order given, failures by day; `at` is the day number, or km by distance.
 */
export function priorWorkVehicles(
  vehicles: Iterable<VehicleLife>,
  options: ExposureOptions,
  pair: { operation: number; failure: number },
): VehicleBehindPair[] {
  const places = PLACES[options.clock]
  const behind: VehicleBehindPair[] = []
  for (const life of vehicles) {
    const split = exposure(life, options)
    const operation = split?.operations.find(candidate => candidate.operation === pair.operation)
    const failures = (operation?.failures ?? [])
      .filter(({ failure }) => failure.failure === pair.failure)
      .map(({ failure, delay, by }) => ({
        day: failure.day,
        at: failure.place / places,
        delay: delay === null ? null : delay / places,
        by,
      }))
      .sort((a, b) => a.day - b.day)
    if (failures.length > 0) behind.push({ vehicle: life.vehicle, failures })
  }
  return behind
}

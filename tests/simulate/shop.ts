import type { RandomSource } from '../../src/core/random.ts'
import type { LifeRecord, VehicleLife } from '../../src/core/statistics/recurrence/vehicle-life.ts'

/** What is true of a simulated workshop. Rates are a year; `ratios[operation][failure]` multiplies while work exposes. */
export interface Truth {
  /** For each family: how often each operation is done, and how often each failure comes without it. */
  families: { operationRates: number[]; failureRates: number[] }[]
  ratios: number[][]
  /** Days for which work exposes; null: for the rest of the life. */
  window: number | null
  vehicles: number
}

const YEAR = 365.25
const OPERATIONS = 6
const FAILURES = 6

/**
 * A workshop with three planted pairs, each of an operation and a failure of its own, and a decoy: an old family that has
 * every operation and every failure more often, so that whatever is compared across families seems to follow everything.
 */
export function drawTruth(chance: RandomSource): Truth {
  const families = Array.from({ length: 4 }, (_, family) => {
    const age = family === 0 ? 3 : 0.7 + chance.uniform() * 0.6
    return {
      operationRates: Array.from({ length: OPERATIONS }, () => age * (0.08 + chance.uniform() * 0.12)),
      failureRates: Array.from({ length: FAILURES }, () => age * (0.04 + chance.uniform() * 0.08)),
    }
  })
  const ratios = Array.from({ length: OPERATIONS }, () => Array.from({ length: FAILURES }, () => 1))
  for (const [pair, ratio] of [3, 2, 5].entries()) ratios[pair]![pair] = ratio
  const windows = [null, 365, 730] as const
  return { families, ratios, window: windows[chance.integer(windows.length)]!, vehicles: 150 }
}

/** Days of a Poisson process of `rate` events a year, whole days after `from` up to `to`. */
function daysOf(chance: RandomSource, rate: number, from: number, to: number): number[] {
  const days: number[] = []
  for (let at = from; ; ) {
    at += (-Math.log(1 - chance.uniform()) / rate) * YEAR
    if (at > to) return days
    days.push(Math.ceil(at))
  }
}

/** The life of one vehicle: seen on its first day and its last, work and failures between by the rates that are true of it. */
function drawLife(chance: RandomSource, truth: Truth, vehicle: number): VehicleLife {
  const family = chance.integer(truth.families.length)
  const { operationRates, failureRates } = truth.families[family]!
  const first = chance.integer(1500)
  const last = first + 400 + chance.integer(3200)
  const works = operationRates.map(rate => daysOf(chance, rate, first, last))
  const records: LifeRecord[] = [
    { kind: 'in_service', day: first, km: null },
    { kind: 'seen', day: last, km: null },
    ...works.flatMap((days, operation) =>
      days.map((day): LifeRecord => ({ kind: 'work', day, km: null, operation, by: 'us' })),
    ),
  ]
  const window = truth.window ?? Number.POSITIVE_INFINITY
  failureRates.forEach((rate, failure) => {
    const ratioAt = (day: number) =>
      works.reduce((product, days, operation) => {
        const isExposed = days.some(done => day > done && day <= done + window)
        return isExposed ? product * truth.ratios[operation]![failure]! : product
      }, 1)
    const most = truth.ratios.reduce((product, row) => product * Math.max(1, row[failure]!), 1)
    // thinning (Lewis & Shedler 1979): as many as there could ever be, each kept with the share that is true on its day
    for (const day of daysOf(chance, rate * most, first, last)) {
      if (chance.uniform() * most < ratioAt(day))
        records.push({ kind: 'failure', day, km: null, failure, cost_minor: null })
    }
  })
  return { vehicle, family, records }
}

export function drawShop(chance: RandomSource, truth: Truth): VehicleLife[] {
  return Array.from({ length: truth.vehicles }, (_, vehicle) => drawLife(chance, truth, vehicle))
}

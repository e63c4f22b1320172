import type { PriorWorkOptions } from '../../../../src/core/statistics/recurrence/prior-work.ts'
import type { LifeRecord, VehicleLife } from '../../../../src/core/statistics/recurrence/vehicle-life.ts'
import { DOERS } from '../../../../src/core/vocabulary.ts'
import { rateRatioByHand } from '../exact/rate-ratio-by-hand.ts'

/**
 * What often follows what, written from the definition and nothing else: every stretch of every vehicle asked on its
 * own, every quantity counted again for every pair. By days a stretch is one day; by distance it lies between two places
 * where something begins or ends.
 */

type Dated = LifeRecord & { day: number }

interface HandFailure {
  day: number
  at: number
  exposed: boolean
  delay: number | null
  by: number
  cost: number | null
}

interface HandVehicle {
  family: number
  exposed: number
  unexposed: number
  failures: HandFailure[]
}

const MM = 1_000_000

/** The odometer on each day that has a reading that counts, in km. */
function readingsByHand(records: readonly Dated[]): Map<number, number> {
  const readings = new Map<number, number>()
  let [added, last] = [0, 0]
  for (const day of [...new Set(records.map(record => record.day))].sort((a, b) => a - b)) {
    for (const replaced of [false, true]) {
      const values = records
        .filter(r => r.day === day && (r.kind === 'seen' && r.display_replaced === true) === replaced)
        .map(r => (r.kind === 'in_service' ? (r.km ?? 0) : r.km))
        .filter(km => km !== null)
      if (values.length === 0) continue
      if (replaced) added = last
      const total = added + Math.max(...values)
      if (total < last) continue
      last = total
      readings.set(day, total)
    }
  }
  return readings
}

function odometerByHand(readings: ReadonlyMap<number, number>, day: number): number {
  const days = [...readings.keys()]
  const before = days.filter(d => d <= day).at(-1)
  const after = days.find(d => d >= day)
  if (before === undefined) return readings.get(after!)!
  if (after === undefined || after === before) return readings.get(before)!
  const [from, to] = [readings.get(before)!, readings.get(after)!]
  return from + ((to - from) * (day - before)) / (after - before)
}

function vehicleByHand(
  life: VehicleLife,
  options: PriorWorkOptions,
  operation: number,
  failure: number,
): HandVehicle | null {
  const { clock, window, by, asOf } = options
  const records = life.records.filter((r): r is Dated => r.day !== null && r.day <= asOf)
  const readings = readingsByHand(records)
  if (records.length === 0 || (clock === 'distance' && readings.size === 0)) return null
  const place = (day: number) => (clock === 'days' ? day : Math.round(odometerByHand(readings, day) * MM))
  const unit = clock === 'days' ? 1 : MM
  const start = place(Math.min(...records.map(r => r.day)))
  const end = place(Math.max(...records.map(r => r.day)))
  const works = life.records
    .filter(r => r.kind === 'work' && r.operation === operation && (by === null || r.by === by))
    .filter(r => r.day === null || r.day <= asOf)
    .map(r => ({
      day: r.day,
      at: r.day === null ? null : place(r.day),
      by: r.kind === 'work' ? DOERS.indexOf(r.by) : -1,
    }))
  const undated = works.filter(work => work.at === null)
  const dated = works.filter((work): work is { day: number; at: number; by: number } => work.at !== null)
  const reach = window === null ? Number.POSITIVE_INFINITY : window * unit
  const isExposed = (t: number) =>
    undated.length > 0 ? t > start && t <= end : dated.some(work => work.at < t && t <= work.at + reach)

  const ends = new Set([start, end, ...dated.flatMap(work => [work.at, Math.min(end, work.at + reach)])])
  if (clock === 'days') for (let day = start; day <= end; day++) ends.add(day)
  const stretches = [...ends].sort((a, b) => a - b)
  let [exposed, unexposed] = [0, 0]
  stretches.slice(1).forEach((to, i) => {
    if (isExposed(to)) exposed += (to - stretches[i]!) / unit
    else unexposed += (to - stretches[i]!) / unit
  })

  const rows = records.filter(r => r.kind === 'failure').filter(r => r.failure === failure)
  const failures = [...new Set(rows.map(r => r.day))].map((day): HandFailure => {
    const at = place(day)
    const earlier = dated.filter(work => work.at < at)
    const latest = earlier.toSorted((a, b) => b.at - a.at || b.day - a.day || a.by - b.by)[0]
    const costs = rows.filter(r => r.day === day && r.cost_minor !== null).map(r => r.cost_minor!)
    return {
      day,
      at: at / unit,
      exposed: isExposed(at),
      delay: latest === undefined ? null : (at - latest.at) / unit,
      by: latest?.by ?? Math.min(...undated.map(work => work.by)),
      cost: costs.length === 0 ? null : costs.reduce((sum, cost) => sum + cost, 0),
    }
  })
  return { family: life.family, exposed, unexposed, failures }
}

/** Every vehicle that has time on the clock, for one pair. */
export function vehiclesByHand(
  lives: readonly VehicleLife[],
  options: PriorWorkOptions,
  operation: number,
  failure: number,
) {
  return lives
    .map(life => ({ vehicle: life.vehicle, split: vehicleByHand(life, options, operation, failure) }))
    .filter((one): one is { vehicle: string | number; split: HandVehicle } => one.split !== null)
}

function quartileByHand(values: readonly number[], p: number): number | null {
  if (values.length === 0) return null
  const sorted = values.toSorted((a, b) => a - b)
  const place = (sorted.length - 1) * p
  const low = sorted[Math.floor(place)]!
  return low + (place % 1) * (sorted[Math.ceil(place)]! - low)
}

function pairByHand(lives: readonly VehicleLife[], options: PriorWorkOptions, operation: number, failure: number) {
  const unit = options.clock === 'days' ? 365.25 : 10_000
  const vehicles = vehiclesByHand(lives, options, operation, failure).map(one => one.split)
  const sum = (list: HandVehicle[], of: (v: HandVehicle) => number) => list.reduce((total, v) => total + of(v), 0)
  const side = (list: HandVehicle[], exposed: boolean) => ({
    vehicles: list.filter(v => (exposed ? v.exposed : v.unexposed) > 0).length,
    events: sum(list, v => v.failures.filter(f => f.exposed === exposed).length),
    time: sum(list, v => (exposed ? v.exposed : v.unexposed)) / unit,
  })
  const strata = [...new Set(vehicles.map(v => v.family))]
    .map(family => vehicles.filter(v => v.family === family))
    .map(list => ({ on: side(list, true), off: side(list, false) }))
    .filter(({ on, off }) => on.vehicles > 0 && off.vehicles > 0)
    .map(({ on, off }) => ({
      exposedEvents: on.events,
      exposedTime: on.time,
      unexposedEvents: off.events,
      unexposedTime: off.time,
    }))
  if (sum(vehicles, v => v.failures.length) === 0) return null
  if (strata.reduce((n, s) => n + s.exposedEvents + s.unexposedEvents, 0) < options.minEvents) return null
  const [exposed, unexposed] = [side(vehicles, true), side(vehicles, false)]
  const crude = exposed.vehicles === 0 || unexposed.vehicles === 0 || unexposed.events === 0
  const { ratio, lower, upper, p } = rateRatioByHand(strata, 0.5)
  const after = vehicles.flatMap(v => v.failures.filter(f => f.exposed))
  const delays = after.map(f => f.delay).filter(delay => delay !== null)
  const costs = after.map(f => f.cost).filter(cost => cost !== null)
  return {
    operation,
    failure,
    strata: strata.length,
    exposed,
    unexposed,
    vehicles_failed: vehicles.filter(v => v.failures.some(f => f.exposed)).length,
    crude_rate_ratio: crude ? null : exposed.events / exposed.time / (unexposed.events / unexposed.time),
    rate_ratio: ratio,
    lower,
    upper,
    p,
    delay: {
      n: delays.length,
      q1: quartileByHand(delays, 0.25),
      median: quartileByHand(delays, 0.5),
      q3: quartileByHand(delays, 0.75),
    },
    by: Object.fromEntries(DOERS.map((name, i) => [name, after.filter(f => f.by === i).length])),
    mean_cost_minor:
      costs.length === 0 ? null : Math.round(costs.reduce((total, cost) => total + cost, 0) / costs.length),
  }
}

/** All tested pairs. */
export function priorWorkByHand(lives: readonly VehicleLife[], options: PriorWorkOptions) {
  const seen = lives.flatMap(life => life.records)
  const operations = new Set(seen.flatMap(r => (r.kind === 'work' ? [r.operation] : [])))
  const failures = new Set(seen.flatMap(r => (r.kind === 'failure' ? [r.failure] : [])))
  return [...operations]
    .flatMap(operation => [...failures].map(failure => pairByHand(lives, options, operation, failure)))
    .filter(pair => pair !== null)
}

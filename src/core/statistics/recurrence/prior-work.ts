import type { Doer } from '../../vocabulary.ts'
import { mantelHaenszel, type RateStratum } from '../exact/mantel-haenszel.ts'
import { rateRatio } from '../exact/rate-ratio.ts'
import { timeToTell } from '../exact/time-to-tell.ts'
import { benjaminiHochberg } from '../screening/benjamini-hochberg.ts'
import { quantileType7 } from '../screening/quantile-type7.ts'
import { type ExposureOptions, exposure } from './exposure.ts'
import { type ExposureTally, type OperationTally, type PairTally, sidesOf, tallyLife } from './exposure-tally.ts'
import { PLACES, type VehicleLife } from './vehicle-life.ts'

export interface PriorWorkOptions extends ExposureOptions {
  /** Pairs with fewer failures in their strata are not tested. */
  minEvents: number
  /** Told before each operation is worked out: how many are done, of how many. */
  onOperation?: (done: number, of: number) => void
}

/** One side of a pair over all vehicles; `time` in years or in 10 000 km. */
export interface PairSide {
  vehicles: number
  events: number
  time: number
}

/** One tested pair of an operation and a failure; `delay` in days or km, money in minor units. */
export interface PriorWorkPair {
  operation: number
  failure: number
  strata: number
  exposed: PairSide
  unexposed: PairSide
  /** Vehicles on which the failure fell into exposed time. */
  vehicles_failed: number
  crude_rate_ratio: number | null
  rate_ratio: number | null
  lower: number | null
  upper: number | null
  p: number
  q: number
  delay: { n: number; q1: number | null; median: number | null; q3: number | null }
  by: Record<Doer, number>
  mean_cost_minor: number | null
  share_attributed: { share: number; lower: number; upper: number } | null
  /** Exposed time, in years or 10 000 km, that is still missing before the ratio would tell; null: nobody can say. */
  more_time_to_tell: number | null
  says: 'often' | 'may' | 'not_shown'
}

/** A year in days, and 10 000 km in km: what rates are given for. */
const TIME_UNIT = { days: 365.25, distance: 10_000 } as const
const LEVEL = 0.05

/** The sides of one operation over all families, and its strata: the families with time on both of them. */
interface OperationSides {
  exposed: { vehicles: number; time: number }
  unexposed: { vehicles: number; time: number }
  strata: { family: number; exposedTime: number; unexposedTime: number }[]
}

function sidesOfOperation(tally: ExposureTally, operation: OperationTally, unit: number): OperationSides {
  const sides: OperationSides = { exposed: { vehicles: 0, time: 0 }, unexposed: { vehicles: 0, time: 0 }, strata: [] }
  for (const family of tally.families.keys()) {
    const { exposed, unexposed } = sidesOf(tally, operation, family)
    sides.exposed.vehicles += exposed.vehicles
    sides.exposed.time += exposed.time / unit
    sides.unexposed.vehicles += unexposed.vehicles
    sides.unexposed.time += unexposed.time / unit
    if (exposed.time > 0 && unexposed.time > 0) {
      sides.strata.push({ family, exposedTime: exposed.time / unit, unexposedTime: unexposed.time / unit })
    }
  }
  return sides
}

/** Failures of each kind over all families. */
function failureTotals(tally: ExposureTally): Map<number, number> {
  const totals = new Map<number, number>()
  for (const { failures } of tally.families.values()) {
    for (const [failure, count] of failures) totals.set(failure, (totals.get(failure) ?? 0) + count)
  }
  return totals
}

function quartiles(delays: readonly number[], places: number): PriorWorkPair['delay'] {
  const sorted = Float64Array.from(delays, delay => delay / places).sort()
  if (sorted.length === 0) return { n: 0, q1: null, median: null, q3: null }
  const [q1, median, q3] = [quantileType7(sorted, 0.25), quantileType7(sorted, 0.5), quantileType7(sorted, 0.75)]
  return { n: sorted.length, q1, median, q3 }
}

/** What part of the exposed failures would not have been without the work, if the work is what causes them. */
function shareAttributed(ratio: number | null, lower: number | null, upper: number | null) {
  if (ratio === null || lower === null || upper === null || ratio <= 1) return null
  return { share: 1 - 1 / ratio, lower: 1 - 1 / lower, upper: 1 - 1 / upper }
}

function verdict(pair: Omit<PriorWorkPair, 'says'>): PriorWorkPair['says'] {
  const { p, q, lower, rate_ratio } = pair
  if (q <= LEVEL && lower !== null && lower > 1) return 'often'
  // A tested pair without a ratio has no unexposed failure: its ratio has no upper end and stands above 1.
  return p <= LEVEL && (rate_ratio === null || rate_ratio > 1) ? 'may' : 'not_shown'
}

/** A pair tested by its strata and described by all vehicles, or null when it has too few failures in its strata. */
function testedPair(
  [operation, failure]: readonly [number, number],
  tally: ExposureTally,
  sides: OperationSides,
  pair: PairTally | undefined,
  given: { events: number; minEvents: number; places: number },
): Omit<PriorWorkPair, 'q' | 'says'> | null {
  let events = 0
  const strata = sides.strata.map(({ family, exposedTime, unexposedTime }): RateStratum => {
    const all = tally.families.get(family)!.failures.get(failure) ?? 0
    const exposedEvents = pair?.eventsByFamily.get(family) ?? 0
    events += all
    return { exposedEvents, exposedTime, unexposedEvents: all - exposedEvents, unexposedTime }
  })
  if (events < given.minEvents) return null
  const exposed = { ...sides.exposed, events: pair?.events ?? 0 }
  const unexposed = { ...sides.unexposed, events: given.events - exposed.events }
  const { ratio, lower, upper, p } = rateRatio(strata, { tail: 'mid-p' })
  return {
    operation,
    failure,
    strata: strata.length,
    exposed,
    unexposed,
    vehicles_failed: pair?.vehicles ?? 0,
    crude_rate_ratio: mantelHaenszel([
      {
        exposedEvents: exposed.events,
        exposedTime: exposed.time,
        unexposedEvents: unexposed.events,
        unexposedTime: unexposed.time,
      },
    ]),
    rate_ratio: ratio,
    lower,
    upper,
    p,
    delay: quartiles(pair?.delays ?? [], given.places),
    by: pair?.by ?? { us: 0, other: 0, owner: 0, unknown: 0 },
    mean_cost_minor:
      pair === undefined || pair.costs.count === 0 ? null : Math.round(pair.costs.sum / pair.costs.count),
    share_attributed: shareAttributed(ratio, lower, upper),
    more_time_to_tell: timeToTell(strata),
  }
}

/**
 * Which failures follow which prior work more often than vehicles of the same family fail without it. Vehicle by vehicle
 * time and failures are split by exposure; every pair of an operation and a failure with enough failures in its strata
 * (families with time on both sides) gets the exact stratified rate ratio with mid-P limits, and a q value over all pairs
 * tested. An association only: what caused a failure a person's finding says.
 *
 * Source: Martin & Austin (1996) Epidemiology 7:29-33 for ratio, limits and p; Benjamini & Hochberg (1995) for q;
 * Levin's attributable share among the exposed as in Rothman, Greenland & Lash (2008) Modern Epidemiology, chapter 4.
 *
 * @param vehicles read once, one at a time; none is kept.
 * @returns the tested pairs by p; equal ones by operation, then failure.
 * @throws RangeError for fewer than one as `minEvents` and for a window that is not above zero.
 */
export function priorWork(vehicles: Iterable<VehicleLife>, options: PriorWorkOptions): PriorWorkPair[] {
  const { clock, window, minEvents, onOperation } = options
  if (!(minEvents >= 1)) throw new RangeError('priorWork requires at least one event a pair')
  if (window !== null && !(window > 0)) throw new RangeError('priorWork requires a window above zero')
  const tally: ExposureTally = { vehicles: 0, families: new Map(), operations: new Map() }
  for (const vehicle of vehicles) {
    const life = exposure(vehicle, options)
    if (life !== null) tallyLife(tally, vehicle.family, life)
  }
  const totals = failureTotals(tally)
  const places = PLACES[clock]
  const tested: Omit<PriorWorkPair, 'q' | 'says'>[] = []
  let done = 0
  for (const [operation, sums] of tally.operations) {
    onOperation?.(done, tally.operations.size)
    done += 1
    const sides = sidesOfOperation(tally, sums, TIME_UNIT[clock] * places)
    for (const [failure, events] of totals) {
      const names = [operation, failure] as const
      const pair = testedPair(names, tally, sides, sums.pairs.get(failure), { events, minEvents, places })
      if (pair !== null) tested.push(pair)
    }
  }
  tested.sort((a, b) => a.p - b.p || a.operation - b.operation || a.failure - b.failure)
  const q = benjaminiHochberg(tested.map(pair => pair.p))
  return tested.map((pair, i) => {
    const known = { ...pair, q: q[i]! }
    return { ...known, says: verdict(known) }
  })
}

import { DOERS, type Doer } from '../../vocabulary.ts'
import type { LifeExposure } from './exposure.ts'

/** What one operation has done to one family's vehicles, as far as those that had it go. */
interface OperationInFamily {
  exposedTime: number
  exposedVehicles: number
  /** Vehicles with some time outside its exposure. */
  unexposedVehicles: number
  /** Vehicles that had the operation and have any time. */
  vehicles: number
}

/** A whole family: its vehicles with time, their time, and its failures by their number. */
interface FamilyTally {
  time: number
  vehicles: number
  failures: Map<number, number>
}

/** The exposed failures of one pair. */
export interface PairTally {
  events: number
  /** Vehicles with at least one of them. */
  vehicles: number
  /** The vehicle that was added last, by its number in the tally: one with two failures is still one. */
  lastVehicle: number
  eventsByFamily: Map<number, number>
  delays: number[]
  by: Record<Doer, number>
  costs: { count: number; sum: number }
}

export interface OperationTally {
  families: Map<number, OperationInFamily>
  pairs: Map<number, PairTally>
}

/** Sums over vehicles from which every pair can be tested; vehicles themselves are forgotten as they pass. */
export interface ExposureTally {
  /** Vehicles that have passed. */
  vehicles: number
  families: Map<number, FamilyTally>
  operations: Map<number, OperationTally>
}

/** Vehicles and time on both sides of an operation within one family; times in days or millimetres. */
export interface FamilySides {
  exposed: { vehicles: number; time: number }
  unexposed: { vehicles: number; time: number }
}

function emptyPair(): PairTally {
  const by = Object.fromEntries(DOERS.map(person => [person, 0])) as Record<Doer, number>
  return {
    ...{ events: 0, vehicles: 0, lastVehicle: 0 },
    ...{ eventsByFamily: new Map(), delays: [], by, costs: { count: 0, sum: 0 } },
  }
}

/** The value of a key, made when it is asked for the first time. */
function entry<V>(map: Map<number, V>, key: number, make: () => V): V {
  const known = map.get(key)
  if (known !== undefined) return known
  const made = make()
  map.set(key, made)
  return made
}

function increase(map: Map<number, number>, key: number): void {
  map.set(key, (map.get(key) ?? 0) + 1)
}

/** Adds one vehicle to the sums. */
export function tallyLife(tally: ExposureTally, family: number, life: LifeExposure): void {
  const whole = entry(tally.families, family, () => ({ time: 0, vehicles: 0, failures: new Map() }))
  tally.vehicles += 1
  whole.time += life.time
  whole.vehicles += life.time > 0 ? 1 : 0
  for (const { failure } of life.failures) increase(whole.failures, failure)
  for (const { operation, exposedTime, unexposedTime, failures } of life.operations) {
    const sums = entry(tally.operations, operation, () => ({ families: new Map(), pairs: new Map() }))
    const side = entry(sums.families, family, () => ({
      exposedTime: 0,
      exposedVehicles: 0,
      unexposedVehicles: 0,
      vehicles: 0,
    }))
    side.exposedTime += exposedTime
    side.exposedVehicles += exposedTime > 0 ? 1 : 0
    side.unexposedVehicles += unexposedTime > 0 ? 1 : 0
    side.vehicles += life.time > 0 ? 1 : 0
    for (const { failure, delay, by } of failures) {
      const pair = entry(sums.pairs, failure.failure, emptyPair)
      pair.events++
      if (pair.lastVehicle !== tally.vehicles) pair.vehicles++
      pair.lastVehicle = tally.vehicles
      increase(pair.eventsByFamily, family)
      if (delay !== null) pair.delays.push(delay)
      pair.by[by]++
      if (failure.cost_minor === null) continue
      pair.costs.count++
      pair.costs.sum += failure.cost_minor
    }
  }
}

/** Both sides of an operation in one family: a vehicle that never had it is unexposed all its time. */
export function sidesOf(tally: ExposureTally, operation: OperationTally, family: number): FamilySides {
  const { time, vehicles } = tally.families.get(family)!
  const own = operation.families.get(family)
  if (own === undefined) return { exposed: { vehicles: 0, time: 0 }, unexposed: { vehicles, time } }
  const unexposed = vehicles - own.vehicles + own.unexposedVehicles
  return {
    exposed: { vehicles: own.exposedVehicles, time: own.exposedTime },
    // Counting the vehicles tells no time from a rounding error of the difference.
    unexposed: { vehicles: unexposed, time: unexposed === 0 ? 0 : time - own.exposedTime },
  }
}

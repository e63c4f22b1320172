import { requireComponent, requireFailureMode, requireOperation } from '../../catalogue/index.ts'
import { dateOfDay, dayNumber } from '../../core/calendar.ts'
import { priorWork } from '../../core/statistics/recurrence/prior-work.ts'
import { priorWorkVehicles } from '../../core/statistics/recurrence/prior-work-vehicles.ts'
import type { RegisteredLife } from '../../core/statistics/recurrence/recurrence-unit.ts'
import type { Doer } from '../../core/vocabulary.ts'
import { asKnown, eachVehicleLife, lifeNumbers } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { together } from '../../platform/together.ts'
import type { PriorWork, PriorWorkQuery } from '../contract.ts'
import { causedOn, causesNamed, vehicleCount, vehicleTitles } from '../queries/pairs.ts'

const METHOD =
  'Exact common rate ratio over families with mid-P limits (Martin and Austin 1996, Epidemiology 7:404-409), point estimate of Mantel and Haenszel; q after Benjamini and Hochberg (1995). An association, not a cause.'

/** Failures that a pair must have to be tested, unless another number is asked for. */
export const MIN_EVENTS = 3

/** Which failures follow which work more often than they come without it: every pair with enough failures, by p. */
export function priorWorkPairs(ctx: Context, query: PriorWorkQuery): PriorWork {
  const numbers = lifeNumbers(ctx)
  const known = asKnown(ctx, query.as_of)
  const counted = { vehicles: 0 }
  const of = vehicleCount(ctx.read)
  const read = (done: number) => ctx.tell?.({ done, of, what: 'vehicles read' })
  const pairs = priorWork(seen(eachVehicleLife(ctx, numbers, known), counted, read), {
    ...exposureOf(query, known.asOf),
    onOperation: (done, operations) => ctx.tell?.({ done, of: operations, what: 'operations worked out' }),
    minEvents: query.min_events ?? MIN_EVENTS,
  })
  const named = causesNamed(ctx.read, known)
  return {
    as_of: known.asOf,
    method: METHOD,
    clock: query.clock ?? 'days',
    vehicles: counted.vehicles,
    pairs: pairs.map(({ operation, failure, ...pair }) => {
      const [work, component, mode] = [
        numbers.operations[operation]!,
        numbers.component(failure),
        numbers.failureMode(failure),
      ]
      const findings_say = named(work.id, component.id, mode?.id ?? null)
      return {
        operation: work.name,
        component: component.name,
        failure_mode: mode?.name ?? null,
        ...pair,
        findings_say,
      }
    }),
  }
}

function exposureOf(query: PriorWorkQuery, asOf: string) {
  return { clock: query.clock ?? 'days', window: query.window ?? null, by: query.by ?? null, asOf: dayNumber(asOf) }
}

const TOLD_EVERY = 1000

/** Counts the vehicles that pass with any dated record, and tells how many have passed at all. */
function* seen(
  lives: Iterable<RegisteredLife>,
  counted: { vehicles: number },
  read: (done: number) => void,
): Generator<RegisteredLife> {
  let passed = 0
  for (const life of lives) {
    passed += 1
    if (passed % TOLD_EVERY === 0) read(passed)
    if (life.records.some(record => record.day !== null)) counted.vehicles += 1
    yield life
  }
}

/** The names of one pair; `failure_mode` is null for failures without one. */
export interface PairNames {
  operation: string
  component: string
  failure_mode: string | null
}

/** A vehicle on which the failure came after the work: on which day, how long after which work, by whom. */
export interface VehicleBehind {
  vehicle_id: string
  title: string
  family: string
  /** `is_caused`: a finding says that the work was the cause. */
  failures: { on: string; delay: number | null; by: Doer; is_caused: boolean }[]
}

/** The vehicles behind a pair, so that a person can look each of them up. 422 for a name that the catalogue lacks. */
export function vehiclesBehindPair(ctx: Context, query: PriorWorkQuery, pair: PairNames): VehicleBehind[] {
  const numbers = lifeNumbers(ctx)
  const known = asKnown(ctx, query.as_of)
  const ids = together({
    operationId: () => requireOperation(ctx.read, pair.operation, '/operation'),
    componentId: () => requireComponent(ctx.read, pair.component, '/component'),
    modeId: () =>
      pair.failure_mode === null ? null : requireFailureMode(ctx.read, pair.failure_mode, '/failure_mode'),
  })
  const pairOf = {
    operation: numbers.operationOf(ids.operationId),
    failure: numbers.failureOf(ids.componentId, ids.modeId),
  }
  const caused = causedOn(ctx.read, ids, known)
  const behind = priorWorkVehicles(eachVehicleLife(ctx, numbers, known), exposureOf(query, known.asOf), pairOf)
  const titles = vehicleTitles(
    ctx.read,
    behind.map(({ vehicle }) => String(vehicle)),
  )
  return behind.map(({ vehicle, failures }) => ({
    vehicle_id: String(vehicle),
    ...titles.get(String(vehicle))!,
    failures: failures.map(({ day, delay, by }) => {
      const on = dateOfDay(day)
      return { on, delay, by, is_caused: caused.has(`${vehicle} ${on}`) }
    }),
  }))
}

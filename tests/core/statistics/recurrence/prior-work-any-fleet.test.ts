import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type PriorWorkOptions, priorWork } from '../../../../src/core/statistics/recurrence/prior-work.ts'
import { priorWorkVehicles } from '../../../../src/core/statistics/recurrence/prior-work-vehicles.ts'
import type { LifeRecord, VehicleLife } from '../../../../src/core/statistics/recurrence/vehicle-life.ts'
import { DOERS } from '../../../../src/core/vocabulary.ts'
import { expectSame } from '../printed.ts'
import { priorWorkByHand, vehiclesByHand } from './prior-work-by-hand.ts'

const km = fc.option(fc.integer({ min: 0, max: 90 }), { nil: null })
const anyRecord: fc.Arbitrary<LifeRecord> = fc.oneof(
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('in_service' as const), day: fc.nat(40), km }) },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('seen' as const),
      day: fc.nat(40),
      km,
      display_replaced: fc.nat(9).map(n => n === 0),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      kind: fc.constant('work' as const),
      day: fc.option(fc.nat(40), { nil: null, freq: 7 }),
      km,
      operation: fc.nat(1),
      by: fc.constantFrom(...DOERS),
    }),
  },
  {
    weight: 5,
    arbitrary: fc.record({
      kind: fc.constant('failure' as const),
      day: fc.nat(40),
      km,
      failure: fc.nat(1),
      cost_minor: fc.option(fc.nat(9000), { nil: null }),
    }),
  },
)
const anyFleet = fc
  .array(fc.record({ family: fc.nat(2), records: fc.array(anyRecord, { maxLength: 9 }) }), {
    minLength: 1,
    maxLength: 8,
  })
  .map(fleet => fleet.map((life, i): VehicleLife => ({ vehicle: i, ...life })))
const anyOptions: fc.Arbitrary<PriorWorkOptions> = fc.record({
  clock: fc.constantFrom('days' as const, 'distance' as const),
  window: fc.option(fc.integer({ min: 1, max: 30 }), { nil: null }),
  by: fc.option(fc.constantFrom(...DOERS), { nil: null, freq: 4 }),
  asOf: fc.constantFrom(20, 35, 100),
  minEvents: fc.integer({ min: 1, max: 3 }),
})

describe('priorWork on any small fleet', () => {
  test('agrees with the definition counted stretch by stretch on any small fleet', () => {
    fc.assert(
      fc.property(anyFleet, anyOptions, (fleet, asked) => {
        const pairs = priorWork(fleet, asked)
        const wanted = priorWorkByHand(fleet, asked)
        expect(pairs).toHaveLength(wanted.length)
        for (const hand of wanted) {
          const fast = pairs.find(pair => pair.operation === hand.operation && pair.failure === hand.failure)!
          expect(fast).toMatchObject({ strata: hand.strata, by: hand.by, mean_cost_minor: hand.mean_cost_minor })
          for (const side of ['exposed', 'unexposed'] as const) {
            expect(fast[side]).toMatchObject({ vehicles: hand[side].vehicles, events: hand[side].events })
            expectSame(fast[side].time, hand[side].time, `${side} time`)
          }
          expect([fast.vehicles_failed, fast.delay.n]).toEqual([hand.vehicles_failed, hand.delay.n])
          for (const quartile of ['q1', 'median', 'q3'] as const)
            expectSame(fast.delay[quartile], hand.delay[quartile], quartile)
          for (const number of ['crude_rate_ratio', 'rate_ratio', 'lower', 'p'] as const)
            expectSame(fast[number], hand[number], number, 1e-7)
          expectSame(fast.upper, hand.upper, 'upper', 1e-6)
        }
      }),
      { numRuns: 120 },
    )
  })

  test('the vehicles behind a pair are those the definition finds, and their failures those that were counted', () => {
    fc.assert(
      fc.property(anyFleet, anyOptions, (fleet, asked) => {
        for (const { operation, failure, exposed } of priorWork(fleet, asked)) {
          const behind = priorWorkVehicles(fleet, asked, { operation, failure })
          const wanted = vehiclesByHand(fleet, asked, operation, failure)
            .map(({ vehicle, split }) => ({ vehicle, days: split.failures.filter(f => f.exposed).map(f => f.day) }))
            .filter(({ days }) => days.length > 0)
          expect(behind.map(one => ({ vehicle: one.vehicle, days: one.failures.map(f => f.day) }))).toEqual(
            wanted.map(one => ({ vehicle: one.vehicle, days: one.days.toSorted((a, b) => a - b) })),
          )
          expect(behind.reduce((sum, one) => sum + one.failures.length, 0)).toBe(exposed.events)
        }
      }),
      { numRuns: 60 },
    )
  })
})

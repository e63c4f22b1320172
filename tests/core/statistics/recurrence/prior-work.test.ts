import { describe, expect, test } from 'vitest'
import { type PriorWorkOptions, priorWork } from '../../../../src/core/statistics/recurrence/prior-work.ts'
import type { LifeRecord, VehicleLife } from '../../../../src/core/statistics/recurrence/vehicle-life.ts'
import type { Doer } from '../../../../src/core/vocabulary.ts'

const inService = (day: number, km: number | null = null): LifeRecord => ({ kind: 'in_service', day, km })
const seen = (day: number, km: number | null = null): LifeRecord => ({ kind: 'seen', day, km })
const work = (day: number | null, by: Doer = 'us', km: number | null = null): LifeRecord => ({
  kind: 'work',
  day,
  km,
  operation: 1,
  by,
})
const failure = (day: number, cost_minor: number | null = null, km: number | null = null): LifeRecord => ({
  kind: 'failure',
  day,
  km,
  failure: 5,
  cost_minor,
})
const vehicle = (...records: LifeRecord[]): VehicleLife => ({ vehicle: 'V', family: 1, records })
const options = (changes: Partial<PriorWorkOptions> = {}): PriorWorkOptions => ({
  clock: 'days',
  window: null,
  by: null,
  asOf: 100_000,
  minEvents: 1,
  ...changes,
})
/** The one pair of a small fleet. */
const pairOf = (vehicles: VehicleLife[], changes: Partial<PriorWorkOptions> = {}) =>
  priorWork(vehicles, options(changes))[0]!

describe('priorWork', () => {
  test('a failure on the day of the work itself is not exposed, one on the last day of the window is', () => {
    const fleet = [vehicle(inService(0), work(10), failure(10), failure(15), failure(16), seen(30))]
    expect(pairOf(fleet, { window: 5 })).toMatchObject({
      exposed: { vehicles: 1, events: 1, time: 5 / 365.25 },
      unexposed: { vehicles: 1, events: 2, time: 25 / 365.25 },
      delay: { n: 1, median: 5 },
    })
  })

  test('overlapping windows are merged, and a window longer than the history is cut', () => {
    const fleet = [vehicle(inService(0), work(10), work(12), work(12), failure(13), seen(20))]
    expect(pairOf(fleet, { window: 4 }).exposed.time).toBeCloseTo(6 / 365.25, 14)
    expect(pairOf(fleet, { window: 4000 }).exposed.time).toBeCloseTo(10 / 365.25, 14)
    expect(pairOf(fleet, { window: 4 }).delay).toEqual({ n: 1, q1: 1, median: 1, q3: 1 })
  })

  test('undated work exposes all but the first record, whatever the window, and has no delay', () => {
    const fleet = [
      vehicle(failure(0), work(null, 'owner'), work(null, 'other'), failure(300), seen(400)),
      vehicle(inService(0), seen(100)),
    ]
    expect(pairOf(fleet, { window: 2 })).toMatchObject({
      exposed: { vehicles: 1, events: 1, time: 400 / 365.25 },
      unexposed: { vehicles: 1, events: 1 },
      delay: { n: 0, q1: null, median: null, q3: null },
      by: { us: 0, other: 1, owner: 0, unknown: 0 },
    })
  })

  test('beside undated work a dated one before the failure gives the delay, outside the window too', () => {
    const fleet = [
      vehicle(inService(0), work(null, 'owner'), work(10, 'unknown'), failure(300), seen(400)),
      vehicle(inService(0), seen(9)),
    ]
    expect(pairOf(fleet, { window: 2 })).toMatchObject({ delay: { n: 1, median: 290 }, by: { owner: 0, unknown: 1 } })
  })

  test('the latest of several works stands for them: on one day the first of us, other, owner, unknown', () => {
    const fleet = [
      vehicle(
        inService(0),
        work(10, 'us'),
        work(20, 'unknown'),
        work(20, 'owner'),
        work(30, 'us'),
        failure(30),
        seen(40),
      ),
    ]
    expect(pairOf(fleet)).toMatchObject({ delay: { n: 1, median: 10 }, by: { us: 0, owner: 1, unknown: 0 } })
  })

  test('at equal distance the later date is the latest', () => {
    const fleet = [
      vehicle(inService(0), work(10, 'us', 500), work(12, 'owner', 500), failure(20, null, 900), seen(30, 1000)),
    ]
    expect(pairOf(fleet, { clock: 'distance' })).toMatchObject({
      delay: { n: 1, median: 400 },
      by: { us: 0, owner: 1 },
    })
  })

  test('the same failure twice a day is one, and costs what both rows state', () => {
    const fleet = [
      vehicle(
        inService(0),
        work(5),
        failure(9, 1000),
        failure(9, null),
        failure(9, 501),
        failure(11, 100),
        failure(12),
        seen(20),
      ),
    ]
    expect(pairOf(fleet)).toMatchObject({ exposed: { events: 3 }, mean_cost_minor: 801 })
  })

  test('a family without time on both sides is described but does not enter the ratio', () => {
    const mixed = [
      vehicle(inService(0), work(50), failure(60), failure(70), seen(100)),
      vehicle(inService(0), failure(30), seen(100)),
    ]
    const apart: VehicleLife = {
      vehicle: 'apart',
      family: 2,
      records: [inService(0), failure(10), failure(20), seen(40)],
    }
    const pair = pairOf([...mixed, apart])
    expect(pair).toMatchObject({ strata: 1, unexposed: { events: 3, vehicles: 3 } })
    expect(pair.rate_ratio).toBeCloseTo(2 / 50 / (1 / 150), 12)
    expect(pair.crude_rate_ratio).toBeCloseTo(2 / 50 / (3 / 190), 12)
    expect(priorWork([...mixed, apart], options({ minEvents: 4 }))).toEqual([])
  })

  test('only the work of those asked for counts as prior work, but all of it is a record', () => {
    const fleet = [
      vehicle(work(0, 'other'), work(10, 'us'), failure(12), seen(20)),
      vehicle(work(0, 'other'), failure(5), seen(20)),
    ]
    expect(pairOf(fleet, { by: 'us' })).toMatchObject({
      exposed: { vehicles: 1, events: 1, time: 10 / 365.25 },
      by: { us: 1, other: 0 },
    })
    expect(priorWork(fleet, options({ by: 'owner' }))).toEqual([])
  })

  test('nothing after the day asked for is seen, and time ends at the last record before it', () => {
    const fleet = [
      vehicle(inService(0), work(10), failure(20), failure(90), seen(100)),
      vehicle(inService(0), seen(50)),
    ]
    expect(pairOf(fleet, { asOf: 60 })).toMatchObject({
      exposed: { events: 1, time: 10 / 365.25 },
      unexposed: { time: 60 / 365.25 },
    })
    expect(priorWork(fleet, options({ asOf: -1 }))).toEqual([])
  })

  test('by distance a vehicle without a reading is left out, and time is in 10 000 km', () => {
    const fleet = [
      vehicle(inService(0), work(10, 'us', 10_000), failure(20, null, 15_000), seen(30, 30_000)),
      vehicle(seen(0), work(10), failure(20), seen(30)),
    ]
    expect(pairOf(fleet, { clock: 'distance', window: 5000 })).toMatchObject({
      exposed: { vehicles: 1, events: 1, time: 0.5 },
      unexposed: { vehicles: 1, events: 0, time: 2.5 },
      delay: { n: 1, median: 5000 },
      rate_ratio: null,
      upper: null,
      share_attributed: null,
    })
  })

  test('says often, may or not shown, and what share of the exposed failures that is', () => {
    const after = Array.from({ length: 12 }, () => vehicle(inService(0), work(50), failure(60), seen(100)))
    const others = Array.from({ length: 40 }, (_, i) =>
      vehicle(inService(0), ...(i < 4 ? [failure(30)] : []), seen(100)),
    )
    const often = pairOf([...after, ...others])
    expect(often.says).toBe('often')
    expect(often.q).toBe(often.p)
    expect(often.share_attributed).toEqual({
      share: 1 - 1 / often.rate_ratio!,
      lower: 1 - 1 / often.lower!,
      upper: 1 - 1 / often.upper!,
    })
    const kind = (n: number): LifeRecord => ({ kind: 'failure', day: 20, km: null, failure: n, cost_minor: null })
    const unconnected = Array.from({ length: 20 }, (_, i) =>
      vehicle(inService(0), kind(6 + i), kind(26 + i), seen(100)),
    )
    const few = priorWork([...after.slice(0, 2), ...others.slice(4, 9), ...unconnected], options())
    expect(few.find(pair => pair.failure === 5)).toMatchObject({
      says: 'may',
      rate_ratio: null,
      upper: null,
      share_attributed: null,
    })
    expect(few.find(pair => pair.failure === 6)).toMatchObject({
      says: 'not_shown',
      rate_ratio: 0,
      lower: 0,
      share_attributed: null,
    })
    expect(few.map(pair => pair.p)).toEqual(few.map(pair => pair.p).sort((a, b) => a - b))
  })

  test('edges: no vehicle, no time, no work, wrong options', () => {
    expect(priorWork([], options())).toEqual([])
    expect(priorWork([vehicle(work(5), failure(5))], options())).toEqual([])
    expect(priorWork([vehicle(inService(0), failure(5), seen(9))], options())).toEqual([])
    expect(priorWork([vehicle(work(null))], options())).toEqual([])
    for (const minEvents of [0, Number.NaN]) {
      expect(() => priorWork([], options({ minEvents }))).toThrow('priorWork requires at least one event a pair')
    }
    for (const window of [0, -1, Number.NaN]) {
      expect(() => priorWork([], options({ window }))).toThrow('priorWork requires a window above zero')
    }
  })

  test('twenty thousand failures of one kind', () => {
    const fleet = Array.from(
      { length: 20_000 },
      (_, i): VehicleLife => ({
        vehicle: i,
        family: i % 3,
        records: [inService(0), work(500), failure(i % 4 === 0 ? 700 : 100), seen(1000)],
      }),
    )
    const pair = pairOf(fleet)
    expect(pair).toMatchObject({
      strata: 3,
      exposed: { events: 5000 },
      unexposed: { events: 15_000 },
      says: 'not_shown',
    })
    expect(pair.rate_ratio).toBeCloseTo(1 / 3, 9)
    expect(pair.upper!).toBeCloseTo((1 / 3) * Math.exp(1.959963984540054 * Math.sqrt(1 / 5000 + 1 / 15_000)), 4)
  })
})

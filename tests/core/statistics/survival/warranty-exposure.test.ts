import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { warrantyEnd } from '../../../../src/core/statistics/survival/warranty-end.ts'
import { type WarrantyJob, warrantyExposure } from '../../../../src/core/statistics/survival/warranty-exposure.ts'

const job = (operation: number, age: number, end: number, comebackAt: number | null = null): WarrantyJob => ({
  operation,
  age,
  end,
  comebackAt,
})

/** Claims straight from the text: every job, every time, every pattern of the open jobs. */
function byHand(jobs: readonly WarrantyJob[], horizon: number) {
  const times = jobs.map(({ age, end, comebackAt }) => {
    const limit = Math.min(age, end)
    const event = comebackAt !== null && comebackAt <= limit
    return { time: event ? comebackAt : limit, event }
  })
  const hazard = (at: number) => {
    let sum = 0
    for (const time of new Set(times.filter(t => t.event && t.time <= at).map(t => t.time))) {
      sum += times.filter(t => t.event && t.time === time).length / times.filter(t => t.time >= time).length
    }
    return sum
  }
  const operations = [...new Set(jobs.map(one => one.operation))]
  const own = (operation: number) => jobs.flatMap((one, i) => (one.operation === operation ? [i] : []))
  const observed = operations.map(o => own(o).filter(i => times[i]!.event).length)
  const expected = operations.map(o => own(o).reduce((sum, i) => sum + hazard(times[i]!.time), 0))
  const total = expected.reduce((sum, e) => sum + e, 0)
  const counted = expected.filter(e => e > 0).length
  const scatter = expected.reduce((sum, e, i) => (e > 0 ? sum + e * (observed[i]! / e - 1) ** 2 : sum), 0)
  const spread = total === 0 ? 0 : Math.max(0, scatter / total - counted / total)
  const multiplier = operations.map((_, i) =>
    spread < 1e-12 || expected[i] === 0 ? 1 : (observed[i]! + 1 / spread) / (expected[i]! + 1 / spread),
  )
  const chances = jobs.flatMap(({ operation, age, end }, i) => {
    if (times[i]!.event || age > end) return []
    const m = multiplier[operations.indexOf(operation)]!
    return [1 - Math.exp(-m * (hazard(Math.min(end, age + horizon)) - hazard(age)))]
  })
  return { operations, observed, expected, multiplier, chances }
}

/** The smallest number of claims whose chance of that many or fewer reaches p, over every pattern. */
function quantileByHand(chances: readonly number[], p: number): number {
  const pmf = new Array<number>(chances.length + 1).fill(0)
  for (let pattern = 0; pattern < 2 ** chances.length; pattern++) {
    let [chance, claims] = [1, 0]
    chances.forEach((q, i) => {
      const hit = (pattern >> i) % 2
      chance *= hit === 1 ? q : 1 - q
      claims += hit
    })
    pmf[claims]! += chance
  }
  let sum = 0
  return pmf.findIndex(mass => {
    sum += mass
    return sum >= p - 1e-12
  })
}

const anyJob = fc.record({
  operation: fc.nat(2),
  age: fc.nat(20),
  end: fc.nat(20),
  comebackAt: fc.option(fc.nat(20)),
})

describe('warrantyExposure', () => {
  test('agrees with the text worked out job by job', () => {
    fc.assert(
      fc.property(
        fc.array(anyJob, { maxLength: 10 }),
        fc.constantFrom(3, 7, Number.POSITIVE_INFINITY),
        (jobs, horizon) => {
          const fast = warrantyExposure(jobs, [], { horizonDays: horizon })
          const slow = byHand(jobs, horizon)
          expect(fast.jobs).toBe(slow.chances.length)
          expect(fast.expected_claims).toBeCloseTo(
            slow.chances.reduce((sum, q) => sum + q, 0),
            8,
          )
          expect(fast.claims).toEqual({
            p05: quantileByHand(slow.chances, 0.05),
            p50: quantileByHand(slow.chances, 0.5),
            p95: quantileByHand(slow.chances, 0.95),
          })
          for (const row of fast.operations) {
            const i = slow.operations.indexOf(row.operation)
            expect(row.observed).toBe(slow.observed[i])
            expect(row.expected).toBeCloseTo(slow.expected[i]!, 10)
            expect(row.multiplier).toBeCloseTo(slow.multiplier[i]!, 8)
          }
          expect(fast.operations).toHaveLength(slow.operations.length)
        },
      ),
      { numRuns: 40 },
    )
  })

  test('one operation, three jobs, by hand', () => {
    // comeback at 10 among 3; one open job of age 5 and end 20: H(20) − H(5) = 1/2, since two are still at risk at 10
    const jobs = [job(1, 40, 30, 10), job(1, 40, 30), job(1, 5, 20)]
    const { operations, expected_claims, claims, jobs: open } = warrantyExposure(jobs, [])
    expect(open).toBe(1)
    expect(expected_claims).toBeCloseTo(1 - Math.exp(-1 / 2), 12)
    expect(claims).toEqual({ p05: 0, p50: 0, p95: 1 })
    expect(operations).toMatchObject([{ operation: 1, jobs: 1, observed: 1, multiplier: 1 }])
    expect(operations[0]!.expected).toBeCloseTo(1, 12)
  })

  test('a comeback after the warranty is no claim, and the job is not open either', () => {
    const late = warrantyExposure([job(1, 40, 30, 35)], [])
    expect(late).toMatchObject({ jobs: 0, expected_claims: 0 })
    expect(late.operations[0]!.observed).toBe(0)
  })

  test('a job is still open on the last day of its warranty, with nothing left to come', () => {
    const last = warrantyExposure([job(1, 30, 30), job(1, 40, 40, 20)], [])
    expect(last).toMatchObject({ jobs: 1, expected_claims: 0 })
  })

  test('money: each claim costs its operation’s mean drawn to the shop’s with the weight of four', () => {
    const jobs = [job(1, 40, 30, 10), job(1, 40, 30), job(1, 5, 20), job(2, 5, 20)]
    const costs = [
      { operation: 1, cost_minor: 10_000 },
      { operation: 1, cost_minor: 20_000 },
      { operation: 3, cost_minor: 60_000 },
    ]
    const { operations, expected_cost_minor } = warrantyExposure(jobs, costs)
    const shop = 30_000
    for (const { operation, expected_claims, expected_cost_minor: cost } of operations) {
      const mean = operation === 1 ? (30_000 + 4 * shop) / 6 : shop
      expect(cost).toBe(Math.round(expected_claims * mean))
    }
    const sum = operations.reduce((total, row) => total + row.expected_cost_minor, 0)
    expect(Math.abs(expected_cost_minor - sum)).toBeLessThanOrEqual(1)
  })

  test('money: quantiles of the draws lie by those of the claims when all claims cost the same', () => {
    const jobs = Array.from({ length: 60 }, (_, i) => job(i % 3, 5 + (i % 7), 40))
    jobs.push(...Array.from({ length: 30 }, (_, i) => job(i % 3, 100, 40, i % 4 === 0 ? 6 + i : null)))
    const { claims, cost_minor, expected_cost_minor, expected_claims } = warrantyExposure(jobs, [
      { operation: 0, cost_minor: 100 },
    ])
    expect(expected_cost_minor).toBe(Math.round(expected_claims * 100))
    expect(Math.abs(cost_minor.p05 / 100 - claims.p05)).toBeLessThanOrEqual(1)
    expect(Math.abs(cost_minor.p50 / 100 - claims.p50)).toBeLessThanOrEqual(1)
    expect(Math.abs(cost_minor.p95 / 100 - claims.p95)).toBeLessThanOrEqual(1)
    expect(claims.p95).toBeGreaterThan(claims.p05 + 3)
  })

  test('money: the rows of the operations add up to the total, to the last cent', () => {
    const jobs = [
      job(0, 200, 365, 50),
      ...[0, 1, 2].flatMap(operation => [job(operation, 40, 365), job(operation, 20, 365)]),
    ]
    for (let cost = 1000; cost < 1040; cost += 1) {
      const { operations, expected_cost_minor } = warrantyExposure(jobs, [{ operation: 0, cost_minor: cost }])
      const sum = operations.reduce((all, operation) => all + operation.expected_cost_minor, 0)
      expect(expected_cost_minor, String(cost)).toBe(sum)
    }
  })

  test('the same jobs in another order, the same answer', () => {
    const jobs = Array.from({ length: 40 }, (_, i) =>
      job(i % 5, (i * 7) % 50, 30 + (i % 9), i % 6 === 0 ? i % 29 : null),
    )
    const costs = [
      { operation: 2, cost_minor: 8000 },
      { operation: 4, cost_minor: 1234 },
    ]
    expect(warrantyExposure(jobs.toReversed(), costs).cost_minor).toEqual(warrantyExposure(jobs, costs).cost_minor)
  })

  test('edges: no job, no comeback yet, times below zero', () => {
    const zero = { p05: 0, p50: 0, p95: 0 }
    expect(warrantyExposure([], [])).toEqual({
      jobs: 0,
      expected_claims: 0,
      claims: zero,
      expected_cost_minor: 0,
      cost_minor: zero,
      open: [],
      operations: [],
    })
    const young = warrantyExposure([job(7, 3, 90)], [])
    expect(young).toMatchObject({ jobs: 1, expected_claims: 0, cost_minor: zero })
    expect(young.operations[0]).toMatchObject({ observed: 0, expected: 0, multiplier: 1 })
    expect(() => warrantyExposure([job(1, -1, 5)], [])).toThrow(
      'warrantyExposure requires ages and ends of zero or more',
    )
  })
})

describe('warrantyEnd', () => {
  const term = { handedBackDay: 100, untilDay: 465, limitKm: 20_000, kmPerDay: 80 }

  test('is the earlier of the date and the day the distance is reached', () => {
    expect(warrantyEnd(term)).toBe(350)
    expect(warrantyEnd({ ...term, kmPerDay: 30 })).toBe(465)
    expect(warrantyEnd({ ...term, kmPerDay: 81 })).toBe(100 + 246)
    expect(warrantyEnd({ ...term, limitKm: 0 })).toBe(100)
  })

  test('is the date where there is no distance to reach', () => {
    for (const kmPerDay of [null, 0, -3]) expect(warrantyEnd({ ...term, kmPerDay })).toBe(465)
    expect(warrantyEnd({ ...term, limitKm: null })).toBe(465)
  })

  test('refuses a promise that ends before it begins', () => {
    expect(() => warrantyEnd({ ...term, untilDay: 99 })).toThrow(
      'warrantyEnd requires a date on or after the hand-back',
    )
    expect(() => warrantyEnd({ ...term, limitKm: -1 })).toThrow('warrantyEnd requires a limit of zero or more')
  })
})

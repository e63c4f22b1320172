import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mantelHaenszel, type RateStratum } from '../../../../src/core/statistics/exact/mantel-haenszel.ts'
import { rateRatio } from '../../../../src/core/statistics/exact/rate-ratio.ts'
import published from '../../../published/statistics/rate-ratio.json' with { type: 'json' }
import { expectPrinted, expectSame } from '../printed.ts'
import { rateRatioByHand, tailsByHand } from './rate-ratio-by-hand.ts'

const stratum = (b: number, t1: number, c: number, t0: number): RateStratum => ({
  exposedEvents: b,
  exposedTime: t1,
  unexposedEvents: c,
  unexposedTime: t0,
})

const breastCancer = [stratum(41, 28010, 15, 19017)]
const doctors = published.british_doctors.inputs
const britishDoctors = doctors.deaths_smokers.map((deaths, i) =>
  stratum(deaths, doctors.py_smokers[i]!, doctors.deaths_non[i]!, doctors.py_non[i]!),
)

describe('published rate ratios', () => {
  test('breast cancer after X-rays: ratio and exact limits', () => {
    const { expected } = published.breast_cancer_exact
    const { ratio, lower, upper } = rateRatio(breastCancer, { tail: 'exact' })
    expectPrinted(ratio, expected.ratio, 6)
    expectPrinted(lower, expected.lower, 6)
    expectPrinted(upper, expected.upper, 4)
    expectPrinted(mantelHaenszel(breastCancer), published.breast_cancer.expected.ratio, 2)
  })

  test('the same with mid-P', () => {
    const { expected } = published.breast_cancer_exact
    const { p, lower, upper } = rateRatio(breastCancer, { tail: 'mid-p' })
    expectPrinted(p, expected.midp_two_sided, 4)
    expectPrinted(p / 2, expected.midp_one_sided, 4)
    expectPrinted(lower, expected.midp_lower, 4)
    expectPrinted(upper, expected.midp_upper, 4)
  })

  test('British doctors: Mantel–Haenszel over five age strata, each stratum, and crude', () => {
    const { expected } = published.british_doctors
    expectPrinted(mantelHaenszel(britishDoctors), expected.mh_ratio, 4)
    expectPrinted(Math.log(mantelHaenszel(britishDoctors)!), expected.log_ratio, 4)
    expectPrinted(rateRatio(britishDoctors, { tail: 'mid-p' }).ratio, published.british_doctors_95.expected.ratio, 6)
    britishDoctors.forEach((one, i) => {
      expectPrinted(mantelHaenszel([one]), expected.stratum[i]!, 4)
    })
    const sum = (values: number[]) => values.reduce((a, b) => a + b, 0)
    const crude = stratum(
      sum(doctors.deaths_smokers),
      sum(doctors.py_smokers),
      sum(doctors.deaths_non),
      sum(doctors.py_non),
    )
    expectPrinted(mantelHaenszel([crude]), expected.crude, 4)
  })
})

const time = fc.oneof(
  { weight: 1, arbitrary: fc.constant(0) },
  { weight: 8, arbitrary: fc.double({ min: 0.01, max: 500, noNaN: true }) },
)
const anyStrata = fc.array(
  fc.tuple(fc.nat(9), time, fc.nat(9), time).map(([b, t1, c, t0]) => stratum(b, t1, c, t0)),
  { maxLength: 5 },
)

describe('rateRatio', () => {
  test.each([
    ['exact', 1],
    ['mid-p', 0.5],
  ] as const)('agrees with every trial taken one by one (%s)', (tail, share) => {
    fc.assert(
      fc.property(anyStrata, strata => {
        const fast = rateRatio(strata, { tail })
        const slow = rateRatioByHand(strata, share)
        expectSame(fast.ratio, slow.ratio, 'ratio')
        expectSame(fast.lower, slow.lower, 'lower')
        expectSame(fast.upper, slow.upper, 'upper', 1e-7)
        expect(fast.p).toBeCloseTo(slow.p, 10)
      }),
      { numRuns: 60 },
    )
  })

  test('leaves 2.5 % in a tail at each limit, over strata of very different size', () => {
    const strata = [stratum(30, 10, 200, 100), stratum(2, 1, 5, 300), stratum(60, 55, 70, 50), stratum(0, 8, 3, 90)]
    for (const [tail, share] of [
      ['exact', 1],
      ['mid-p', 0.5],
    ] as const) {
      const { lower, upper } = rateRatio(strata, { tail })
      expect(tailsByHand(strata, lower!, share).upper).toBeCloseTo(0.025, 10)
      expect(tailsByHand(strata, upper!, share).lower).toBeCloseTo(0.025, 10)
    }
  })

  test('finds the limits where nothing but a far-off ratio moves the numbers', () => {
    const strata = [stratum(0, 0.4, 3, 0.01), stratum(3, 0.01, 0, 500)]
    for (const [tail, share] of [
      ['exact', 1],
      ['mid-p', 0.5],
    ] as const) {
      const [fast, slow] = [rateRatio(strata, { tail }), rateRatioByHand(strata, share)]
      expectSame(fast.lower, slow.lower, 'lower', 1e-7)
      expectSame(fast.upper, slow.upper, 'upper', 1e-7)
    }
  })

  test('turns over when the sides change places', () => {
    const strata = [stratum(7, 10, 9, 31), stratum(3, 4, 1, 9)]
    const turned = strata.map(s => stratum(s.unexposedEvents, s.unexposedTime, s.exposedEvents, s.exposedTime))
    const [one, other] = [rateRatio(strata, { tail: 'mid-p' }), rateRatio(turned, { tail: 'mid-p' })]
    expectSame(one.lower, 1 / other.upper!, 'lower')
    expectSame(one.upper, 1 / other.lower!, 'upper')
    expectSame(one.ratio, 1 / other.ratio!, 'ratio')
    expectSame(one.p, other.p, 'p')
  })

  test('at tens of thousands of failures agrees with the normal limits of a log rate ratio', () => {
    const { ratio, lower, upper, p } = rateRatio([stratum(20_000, 1e6, 15_000, 1e6)], { tail: 'mid-p' })
    const half = 1.959963984540054 * Math.sqrt(1 / 20_000 + 1 / 15_000)
    expectSame(ratio, 4 / 3, 'ratio')
    expectSame(lower, (4 / 3) * Math.exp(-half), 'lower', 1e-5)
    expectSame(upper, (4 / 3) * Math.exp(half), 'upper', 1e-5)
    expect(p).toBeGreaterThan(0)
    expect(p).toBeLessThan(1e-150)
  })

  test('one-sided counts have the closed limits', () => {
    // P(X = n) = (ψ/(1 + ψ))ⁿ with equal times: half of it is 2.5 % at the limit
    const none = rateRatio([stratum(0, 1, 4, 1)], { tail: 'mid-p' })
    expect(none).toMatchObject({ ratio: 0, lower: 0 })
    const q = 0.05 ** (1 / 4)
    expectSame(none.upper, (1 - q) / q, 'upper')
    const all = rateRatio([stratum(4, 1, 0, 1)], { tail: 'mid-p' })
    expect(all).toMatchObject({ ratio: null, upper: null })
    expectSame(all.lower, q / (1 - q), 'lower')
    expectSame(all.p, 1 / 16, 'p')
    const many = rateRatio([stratum(20_000, 1, 0, 1)], { tail: 'exact' })
    expect(many.ratio).toBeNull()
    const huge = 0.025 ** (1 / 20_000)
    expectSame(many.lower, huge / (1 - huge), 'lower', 1e-7)
  })

  test('has no ratio without failures or without time on a side', () => {
    const nothing = { ratio: null, lower: null, upper: null, p: 1 }
    expect(rateRatio([], { tail: 'mid-p' })).toEqual(nothing)
    expect(rateRatio([stratum(0, 5, 0, 5)], { tail: 'mid-p' })).toEqual(nothing)
    expect(rateRatio([stratum(3, 5, 0, 0)], { tail: 'exact' })).toEqual(nothing)
    expect(rateRatio([stratum(0, 0, 3, 5)], { tail: 'exact' })).toEqual(nothing)
    expect(mantelHaenszel([stratum(0, 0, 3, 5)])).toBeNull()
    expect(mantelHaenszel([stratum(0, 2, 3, 5)])).toBe(0)
    expect(mantelHaenszel([stratum(3, 2, 0, 5)])).toBeNull()
  })

  test('a stratum without time on a side changes nothing', () => {
    const strata = [stratum(7, 10, 9, 31)]
    expect(rateRatio([...strata, stratum(5, 3, 0, 0), stratum(0, 0, 8, 2)], { tail: 'mid-p' })).toEqual(
      rateRatio(strata, { tail: 'mid-p' }),
    )
  })

  test('wider at a higher level, and refuses what cannot be', () => {
    const at = (level: number) => rateRatio(breastCancer, { tail: 'mid-p', level })
    expect(at(0.99).lower!).toBeLessThan(at(0.9).lower!)
    expect(at(0.99).upper!).toBeGreaterThan(at(0.9).upper!)
    expect(() => at(1)).toThrow(RangeError)
    expect(() => rateRatio([stratum(-1, 1, 1, 1)], { tail: 'exact' })).toThrow(
      'rateRatio requires counts of zero or more',
    )
    expect(() => rateRatio([stratum(0.5, 1, 1, 1)], { tail: 'exact' })).toThrow(RangeError)
    expect(() => rateRatio([stratum(1, -1, 1, 1)], { tail: 'exact' })).toThrow(
      'rateRatio requires times of zero or more',
    )
    expect(() => rateRatio([stratum(1, 1, 1, Number.NaN)], { tail: 'exact' })).toThrow(RangeError)
  })
})

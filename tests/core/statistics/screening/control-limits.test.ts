import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { controlLimits } from '../../../../src/core/statistics/screening/control-limits.ts'
import { jobsBetweenLimits } from '../../../../src/core/statistics/screening/jobs-between-limits.ts'
import published from '../../../published/statistics/control-charts.json' with { type: 'json' }
import { expectPrinted } from '../printed.ts'

/** Chances of 0 to n successes, one trial added at a time. */
function binomialByHand(jobs: number, rate: number): number[] {
  let pmf = [1]
  for (let trial = 0; trial < jobs; trial++) {
    const next = new Array<number>(pmf.length + 1).fill(0)
    pmf.forEach((mass, k) => {
      next[k]! += mass * (1 - rate)
      next[k + 1]! += mass * rate
    })
    pmf = next
  }
  return pmf
}

/** The definition: every x tried. */
function byHand(jobs: number, rate: number) {
  const pmf = binomialByHand(jobs, rate)
  const sum = (from: number, to: number) => pmf.slice(from, to + 1).reduce((total, mass) => total + mass, 0)
  const counts = pmf.map((_, x) => x)
  const upper = counts.find(x => sum(x, jobs) <= 0.00135)
  const lower = counts.findLast(x => sum(0, x) <= 0.00135)
  return { lower: lower === undefined ? null : lower / jobs, upper: upper === undefined ? null : upper / jobs }
}

describe('controlLimits', () => {
  test('on the published p chart finds the two samples that the book finds', () => {
    const { inputs, expected } = published.p_chart
    const centre = inputs.reduce((sum, count) => sum + count, 0) / (50 * inputs.length)
    expectPrinted(centre, expected.center, 4)
    const { lower, upper } = controlLimits(50, centre)
    const out = inputs.flatMap((count, i) => (count / 50 >= upper! || count / 50 <= lower! ? [i + 1] : []))
    expect(out).toEqual(expected.out)
  })

  test('on the published c chart, as so many jobs that the counts are Poisson, finds the one wafer', () => {
    const { inputs, expected } = published.c_chart
    const jobs = 10_000_000
    expect(inputs.reduce((sum, count) => sum + count, 0) / inputs.length).toBe(expected.center)
    const { lower, upper } = controlLimits(jobs, expected.center / jobs)
    const out = inputs.flatMap((count, i) => (count / jobs >= upper! || count / jobs <= lower! ? [i + 1] : []))
    expect(out).toEqual(expected.out)
  })

  test('agrees with every count tried', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 80 }), fc.double({ min: 0, max: 1, noNaN: true }), (jobs, rate) => {
        expect(controlLimits(jobs, rate)).toEqual(byHand(jobs, rate))
      }),
    )
  })

  test('edges: no earlier job, no job, none ever, all always, few jobs, many', () => {
    expect(controlLimits(10, null)).toEqual({ lower: null, upper: null })
    expect(controlLimits(0, 0.1)).toEqual({ lower: null, upper: null })
    expect(controlLimits(8, 0)).toEqual({ lower: null, upper: 1 / 8 })
    expect(controlLimits(8, 1)).toEqual({ lower: 7 / 8, upper: null })
    expect(controlLimits(2, 0.5)).toEqual({ lower: null, upper: null })
    const { lower, upper } = controlLimits(20_000, 0.1)
    expect(lower! * 20_000).toBeCloseTo(2000 - 3 * Math.sqrt(1800), -1)
    expect(upper! * 20_000).toBeCloseTo(2000 + 3 * Math.sqrt(1800), -1)
    expect(() => controlLimits(-1, 0.5)).toThrow('controlLimits requires jobs of zero or more')
    expect(() => controlLimits(1, Number.NaN)).toThrow('controlLimits requires a rate from 0 to 1')
  })
})

describe('jobsBetweenLimits', () => {
  test('are the last and the first number of jobs that chance hardly gives', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.002, max: 0.99, noNaN: true }), rate => {
        const { lower, mean, upper } = jobsBetweenLimits(rate)
        const atMost = (x: number) => 1 - (1 - rate) ** x
        const atLeast = (x: number) => (1 - rate) ** (x - 1)
        expect(mean).toBeCloseTo(1 / rate, 9)
        if (lower !== null) expect(atMost(lower)).toBeLessThanOrEqual(0.00135 + 1e-12)
        expect(atMost((lower ?? 0) + 1)).toBeGreaterThan(0.00135 - 1e-12)
        expect(atLeast(upper!)).toBeLessThanOrEqual(0.00135 + 1e-12)
        expect(atLeast(upper! - 1)).toBeGreaterThan(0.00135 - 1e-12)
      }),
    )
  })

  test('edges: none ever, all always', () => {
    expect(jobsBetweenLimits(0)).toEqual({ lower: null, mean: null, upper: null })
    expect(jobsBetweenLimits(1)).toEqual({ lower: null, mean: 1, upper: 2 })
    expect(jobsBetweenLimits(0.0001).lower).toBe(13)
    expect(() => jobsBetweenLimits(1.2)).toThrow('jobsBetweenLimits requires a rate from 0 to 1')
  })
})

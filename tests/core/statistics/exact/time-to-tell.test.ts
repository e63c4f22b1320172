import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { mantelHaenszel, type RateStratum } from '../../../../src/core/statistics/exact/mantel-haenszel.ts'
import { rateRatio } from '../../../../src/core/statistics/exact/rate-ratio.ts'
import { logRatioVariance, timeToTell } from '../../../../src/core/statistics/exact/time-to-tell.ts'
import published from '../../../published/statistics/rate-ratio.json' with { type: 'json' }
import { expectPrinted } from '../printed.ts'

const stratum = (b: number, t1: number, c: number, t0: number): RateStratum => ({
  exposedEvents: b,
  exposedTime: t1,
  unexposedEvents: c,
  unexposedTime: t0,
})

const doctors = published.british_doctors.inputs
const britishDoctors = doctors.deaths_smokers.map((deaths, i) =>
  stratum(deaths, doctors.py_smokers[i]!, doctors.deaths_non[i]!, doctors.py_non[i]!),
)

/** The chances of 0, 1, 2 … under a Poisson mean, until next to nothing is left. */
function poisson(mean: number): number[] {
  const chances = [Math.exp(-mean)]
  for (let k = 1; k < mean + 12 * Math.sqrt(mean) + 20; k += 1) chances.push((chances[k - 1]! * mean) / k)
  return chances
}

/** The exact chance that a test of two Poisson counts tells them apart, summed over all that may be counted. */
function power(strata: RateStratum, isTold: (b: number, c: number) => boolean): number {
  const [exposed, unexposed] = [poisson(strata.exposedEvents), poisson(strata.unexposedEvents)]
  let sum = 0
  exposed.forEach((p, b) => {
    unexposed.forEach((q, c) => {
      if (p * q > 1e-12 && isTold(b, c)) sum += p * q
    })
  })
  return sum
}

describe('logRatioVariance', () => {
  // Doll & Hill (1966) in Rothman, Greenland & Lash (2008), chapter 15: 90 % and 95 % limits of the Mantel-Haenszel ratio
  test('gives the published limits of the British doctors', () => {
    const ratio = mantelHaenszel(britishDoctors)!
    const se = Math.sqrt(logRatioVariance(britishDoctors)!)
    expectPrinted(Math.log(ratio) - 1.6448536269514722 * se, published.british_doctors.expected.log_lower90, 4)
    expectPrinted(Math.log(ratio) + 1.6448536269514722 * se, published.british_doctors.expected.log_upper90, 4)
    expectPrinted(ratio * Math.exp(-1.959963984540054 * se), published.british_doctors_95.expected.lower, 6)
    expectPrinted(ratio * Math.exp(1.959963984540054 * se), published.british_doctors_95.expected.upper, 6)
  })

  test('is 1/b + 1/c on one stratum, which gives the published limits of the breast cancers', () => {
    expect(logRatioVariance([stratum(41, 28_010, 15, 19_017)])).toBeCloseTo(1 / 41 + 1 / 15, 14)
    const { ratio, wald_lower, wald_upper } = published.breast_cancer.expected
    const se = Math.sqrt(1 / 41 + 1 / 15)
    expectPrinted(ratio * Math.exp(-1.959963984540054 * se), wald_lower, 2)
    expectPrinted(ratio * Math.exp(1.959963984540054 * se), wald_upper, 2)
  })
})

describe('timeToTell', () => {
  test('by hand: four against eight in twice the time each', () => {
    // ratio 2, v = 1/4 + 1/8, ((1.959964 + 0.841621)/ln 2)² = 16.3364; 0.375 · 16.3364 = 6.12616 times as much
    expect(timeToTell([stratum(4, 10, 4, 20)])).toBeCloseTo(10 * (0.5 * 16.336_434 - 1), 3)
    expect(timeToTell([stratum(4, 10, 8, 40)])).toBeCloseTo(10 * (0.375 * 16.336_434 - 1), 3)
  })

  // The truth itself: were the rates those that were seen, how often would so much time tell them apart?
  test.each([
    [4, 11, 6, 60],
    [3, 20, 9, 20],
    [14, 55, 30, 230],
    [2, 1, 10, 100],
    [9, 99, 10, 185],
    [2, 40, 12, 40],
  ])('%s in %s against %s in %s: so much more is told four times in five', (b, t1, c, t0) => {
    const more = timeToTell([stratum(b, t1, c, t0)])!
    const f = 1 + more / t1
    const then = stratum(b * f, t1 * f, c * f, t0 * f)
    const wald = power(then, (x, y) => {
      if (x === 0 || y === 0) return false
      return Math.abs(Math.log(x / then.exposedTime / (y / then.unexposedTime))) > 1.959964 * Math.sqrt(1 / x + 1 / y)
    })
    expect(wald).toBeGreaterThan(0.74)
    expect(wald).toBeLessThan(0.86)
  })

  // mid-P is somewhat more careful than Wald's test while the counts are small
  test.each([
    [14, 55, 30, 230, 0.74],
    [9, 99, 10, 185, 0.74],
    [4, 11, 6, 60, 0.7],
  ])('%s in %s against %s in %s: the program’s own limits then tell it about as often', (b, t1, c, t0, least) => {
    const f = 1 + timeToTell([stratum(b, t1, c, t0)])! / t1
    const then = stratum(b * f, t1 * f, c * f, t0 * f)
    const told = power(then, (x, y) => {
      const { p } = rateRatio([stratum(x, then.exposedTime, y, then.unexposedTime)], { tail: 'mid-p' })
      return p <= 0.05
    })
    expect(told).toBeGreaterThan(least)
    expect(told).toBeLessThan(0.86)
  })

  test('nobody can say: no failure on a side, a ratio of one, no time on a side', () => {
    expect(timeToTell([])).toBeNull()
    expect(timeToTell([stratum(0, 5, 3, 5)])).toBeNull()
    expect(timeToTell([stratum(3, 5, 0, 5)])).toBeNull()
    expect(timeToTell([stratum(0, 5, 0, 5)])).toBeNull()
    expect(timeToTell([stratum(3, 5, 3, 5)])).toBeNull()
    expect(timeToTell([stratum(3, 5, 1, 0)])).toBeNull()
    expect(timeToTell([stratum(3, 0, 1, 5)])).toBeNull()
  })

  test('a stratum without time on both sides adds neither failures nor time', () => {
    const one = stratum(3, 10, 2, 20)
    expect(timeToTell([one, stratum(0, 0, 5, 40), stratum(4, 7, 0, 0)])).toBe(timeToTell([one]))
  })

  test('is zero or more for any counts; ten times the record needs a tenth of what is missing', () => {
    const counts = fc.tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 60 }))
    fc.assert(
      fc.property(counts, fc.double({ min: 0.5, max: 80, noNaN: true }), ([b, c], t1) => {
        const more = timeToTell([stratum(b, t1, c, 10)])
        if (more === null) return
        expect(more).toBeGreaterThanOrEqual(0)
        const tenfold = timeToTell([stratum(10 * b, 10 * t1, 10 * c, 100)])!
        const needed = 1 + more / t1
        if (more > 0) expect(1 + tenfold / (10 * t1)).toBeCloseTo(Math.max(1, needed / 10), 6)
      }),
    )
  })
})

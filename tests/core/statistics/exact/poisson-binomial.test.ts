import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { poissonBinomial } from '../../../../src/core/statistics/exact/poisson-binomial.ts'

/** Every pattern of successes and failures, one by one. */
function byEnumeration(chances: readonly number[]): number[] {
  const pmf = new Array<number>(chances.length + 1).fill(0)
  for (let pattern = 0; pattern < 2 ** chances.length; pattern++) {
    let chance = 1
    let successes = 0
    chances.forEach((p, i) => {
      const success = (pattern >> i) % 2 === 1
      chance *= success ? p : 1 - p
      successes += success ? 1 : 0
    })
    pmf[successes]! += chance
  }
  return pmf
}

const chance = fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 1, 0.5))

describe('poissonBinomial', () => {
  test('agrees with every pattern enumerated, up to fifteen trials', () => {
    fc.assert(
      fc.property(fc.array(chance, { maxLength: 15 }), chances => {
        const distribution = poissonBinomial(chances)
        let sum = 0
        byEnumeration(chances).forEach((wanted, k) => {
          sum += wanted
          expect(distribution.pmf(k)).toBeCloseTo(wanted, 12)
          expect(distribution.cdf(k)).toBeCloseTo(sum, 12)
        })
      }),
      { numRuns: 40 },
    )
  })

  test('with one chance for all is the binomial distribution, as the fractions of four tosses', () => {
    const distribution = poissonBinomial([0.5, 0.5, 0.5, 0.5])
    expect([0, 1, 2, 3, 4].map(distribution.pmf)).toEqual([1 / 16, 4 / 16, 6 / 16, 4 / 16, 1 / 16])
    expect([0.05, 0.0625, 0.07, 0.5, 0.95].map(distribution.quantile)).toEqual([0, 0, 1, 2, 4])
  })

  test('a quantile is the smallest count whose cdf reaches p', () => {
    fc.assert(
      fc.property(
        fc.array(chance, { minLength: 1, maxLength: 60 }),
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        (chances, p) => {
          const { quantile, cdf } = poissonBinomial(chances)
          const k = quantile(p)
          expect(cdf(k)).toBeGreaterThanOrEqual(p - 1e-12)
          if (k > 0) expect(cdf(k - 1)).toBeLessThan(p)
        },
      ),
    )
  })

  test('keeps its mean and its variance at twenty thousand trials', () => {
    const chances = Array.from({ length: 20_000 }, (_, i) => ((i * 37) % 100) / 400)
    const { mean, pmf, cdf } = poissonBinomial(chances)
    const variance = chances.reduce((sum, p) => sum + p * (1 - p), 0)
    let [total, first, second] = [0, 0, 0]
    for (let k = 0; k <= 20_000; k++) {
      total += pmf(k)
      first += k * pmf(k)
      second += (k - mean) ** 2 * pmf(k)
    }
    expect(total).toBeCloseTo(1, 11)
    expect(first / mean).toBeCloseTo(1, 11)
    expect(second / variance).toBeCloseTo(1, 9)
    expect(cdf(20_000)).toBe(1)
  })

  test('edges: no trial, certain trials, counts out of reach', () => {
    expect(poissonBinomial([]).quantile(0.95)).toBe(0)
    expect(poissonBinomial([]).cdf(0)).toBe(1)
    expect(poissonBinomial([1, 1, 0]).quantile(0.05)).toBe(2)
    const { pmf, cdf } = poissonBinomial([0.3])
    expect([pmf(-1), pmf(2), cdf(-1), cdf(5), cdf(0.9)]).toEqual([0, 0, 0, 1, 0.7])
  })

  test('refuses what is no chance', () => {
    for (const bad of [-0.1, 1.1, Number.NaN]) expect(() => poissonBinomial([bad])).toThrow(RangeError)
    for (const bad of [0, 1, Number.NaN]) expect(() => poissonBinomial([0.5]).quantile(bad)).toThrow(RangeError)
  })
})

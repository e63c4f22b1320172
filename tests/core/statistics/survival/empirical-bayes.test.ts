import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { empiricalBayes } from '../../../../src/core/statistics/survival/empirical-bayes.ts'

const groups = (...pairs: [number, number][]) => pairs.map(([observed, expected]) => ({ observed, expected }))

describe('empiricalBayes', () => {
  test('gives the fractions of two groups worked out by hand', () => {
    // mean 12/12 = 1; scatter (6·(10/6 − 1)² + 6·(2/6 − 1)²)/12 = 4/9; less 1/6: A = 5/18, a = 18/5
    const { mean, variance, prior, multipliers } = empiricalBayes(groups([10, 6], [2, 6]))
    expect(mean).toBe(1)
    expect(variance).toBeCloseTo(5 / 18, 14)
    expect(prior).toBeCloseTo(18 / 5, 12)
    expect(multipliers[0]).toBeCloseTo((10 + 3.6) / (6 + 3.6), 12)
    expect(multipliers[1]).toBeCloseTo((2 + 3.6) / (6 + 3.6), 12)
  })

  test('leaves no spread where the groups differ no more than chance makes them', () => {
    const { variance, prior, multipliers } = empiricalBayes(groups([4, 4.5], [5, 4.5], [3, 3]))
    expect([variance, prior]).toEqual([0, null])
    expect(multipliers).toEqual([1, 1, 1])
  })

  test('a group without expected events keeps 1 and changes nothing', () => {
    const with_ = empiricalBayes(groups([10, 6], [0, 0], [2, 6]))
    const without = empiricalBayes(groups([10, 6], [2, 6]))
    expect(with_.multipliers).toEqual([without.multipliers[0], 1, without.multipliers[1]])
    expect(with_.variance).toBe(without.variance)
    expect(empiricalBayes(groups([10, 5], [0, 0], [2, 5])).multipliers[1]).toBe(1)
  })

  test('every multiplier lies between what its group showed and the mean, and is Marshall’s weighted form', () => {
    const group = fc.record({ observed: fc.nat(40), expected: fc.double({ min: 0.1, max: 40, noNaN: true }) })
    fc.assert(
      fc.property(fc.array(group, { minLength: 1, maxLength: 8 }), list => {
        const { mean, variance, multipliers } = empiricalBayes(list)
        list.forEach(({ observed, expected }, i) => {
          const own = observed / expected
          const weight = variance === 0 ? 0 : variance / (variance + mean / expected)
          expect(multipliers[i]).toBeCloseTo(mean + weight * (own - mean), 8)
          expect(multipliers[i]).toBeGreaterThanOrEqual(Math.min(own, mean) - 1e-9)
          expect(multipliers[i]).toBeLessThanOrEqual(Math.max(own, mean) + 1e-9)
        })
      }),
    )
  })

  test('edges: none, one, none observed', () => {
    expect(empiricalBayes([])).toEqual({ mean: 1, variance: 0, prior: null, multipliers: [] })
    expect(empiricalBayes(groups([0, 0])).multipliers).toEqual([1])
    expect(empiricalBayes(groups([3, 3])).multipliers).toEqual([1])
    expect(empiricalBayes(groups([0, 3], [0, 2])).multipliers).toEqual([0, 0])
    expect(() => empiricalBayes(groups([1, -1]))).toThrow('empiricalBayes requires events of zero or more')
    expect(() => empiricalBayes(groups([Number.NaN, 1]))).toThrow(RangeError)
  })
})

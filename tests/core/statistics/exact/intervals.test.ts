import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { binomialInterval } from '../../../../src/core/statistics/exact/binomial-interval.ts'
import { poissonInterval } from '../../../../src/core/statistics/exact/poisson-interval.ts'
import { wilsonInterval } from '../../../../src/core/statistics/exact/wilson-interval.ts'
import garwood from '../../../published/statistics/poisson-interval.json' with { type: 'json' }
import proportions from '../../../published/statistics/proportions.json' with { type: 'json' }
import { expectPrinted } from '../printed.ts'

/** P(X ≤ k) of a Poisson count, each term from logarithms. */
function poissonAtMost(k: number, mean: number): number {
  let sum = 0
  let logFactorial = 0
  for (let i = 0; i <= k; i++) {
    if (i > 0) logFactorial += Math.log(i)
    sum += Math.exp(i * Math.log(mean) - mean - logFactorial)
  }
  return sum
}

/** P(X ≤ k) of a binomial count, each term from logarithms. */
function binomialAtMost(k: number, trials: number, chance: number): number {
  let sum = 0
  let logChoose = 0
  for (let i = 0; i <= k; i++) {
    if (i > 0) logChoose += Math.log((trials - i + 1) / i)
    sum += Math.exp(logChoose + i * Math.log(chance) + (trials - i) * Math.log1p(-chance))
  }
  return sum
}

describe('poissonInterval', () => {
  test.each(garwood.inputs.map((count, i) => [count, garwood.expected.lower[i]!, garwood.expected.upper[i]!]))(
    'gives the printed limits of %i events',
    (count, lower, upper) => {
      const limits = poissonInterval(count)
      expectPrinted(limits.lower, lower, 4)
      expectPrinted(limits.upper, upper, 4)
    },
  )

  test('gives the printed limits of 100 events, to the three decimals they are good for', () => {
    const limits = poissonInterval(100)
    expectPrinted(limits.lower, garwood.expected.lower_100, 3)
    expectPrinted(limits.upper, garwood.expected.upper_100, 3)
  })

  test('leaves half of the rest in each tail, at few events and at tens of thousands', () => {
    for (const count of [1, 2, 7, 60, 900, 1000, 5000, 20_000]) {
      for (const level of [0.9, 0.95, 0.99]) {
        const { lower, upper } = poissonInterval(count, level)
        expect(1 - poissonAtMost(count - 1, lower)).toBeCloseTo((1 - level) / 2, 8)
        expect(poissonAtMost(count, upper)).toBeCloseTo((1 - level) / 2, 8)
      }
    }
  })

  test('of no event has a lower limit of zero and the closed upper one', () => {
    expect(poissonInterval(0).lower).toBe(0)
    expect(poissonInterval(0).upper).toBeCloseTo(-Math.log(0.025), 12)
  })

  test('refuses what is no count and what is no level', () => {
    for (const count of [-1, 0.5, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => poissonInterval(count)).toThrow('poissonInterval requires a count of zero or more')
    }
    for (const level of [0, 1, Number.NaN]) expect(() => poissonInterval(3, level)).toThrow(RangeError)
  })
})

describe('binomialInterval', () => {
  test.each(proportions.clopper_pearson.inputs.map((input, i) => [input, proportions.clopper_pearson.expected[i]!]))(
    'gives the printed limits of %j',
    (input, [lower, upper]) => {
      const limits = binomialInterval(input[0]!, input[1]!)
      expectPrinted(limits.lower, lower!, 4)
      expectPrinted(limits.upper, upper!, 4)
    },
  )

  test('leaves half of the rest in each tail', () => {
    for (const [successes, trials] of [
      [1, 2],
      [3, 10],
      [9, 10],
      [400, 20_000],
      [19_999, 20_000],
    ] as const) {
      const { lower, upper } = binomialInterval(successes, trials)
      expect(1 - binomialAtMost(successes - 1, trials, lower)).toBeCloseTo(0.025, 8)
      expect(binomialAtMost(successes, trials, upper)).toBeCloseTo(0.025, 8)
    }
  })

  test('refuses counts that cannot be', () => {
    expect(() => binomialInterval(0, 0)).toThrow('binomialInterval requires at least one trial')
    expect(() => binomialInterval(3, 2)).toThrow(RangeError)
    expect(() => binomialInterval(-1, 2)).toThrow(RangeError)
    expect(() => binomialInterval(1, 2, 1)).toThrow(RangeError)
  })
})

describe('wilsonInterval', () => {
  test.each(proportions.wilson.inputs.map((input, i) => [input, proportions.wilson.expected[i]!]))(
    'gives the printed limits of %j',
    (input, [lower, upper]) => {
      const limits = wilsonInterval(input[0]!, input[1]!)
      expectPrinted(limits.lower, lower!, 4)
      expectPrinted(limits.upper, upper!, 4)
    },
  )

  test('holds the proportions whose score test does not reject: at a limit it stands at z', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.nat(500), (trials, drawn) => {
        const successes = Math.min(drawn, trials)
        const { lower, upper } = wilsonInterval(successes, trials)
        const score = (p: number) => (successes / trials - p) / Math.sqrt((p * (1 - p)) / trials)
        if (successes > 0) expect(score(lower)).toBeCloseTo(1.959963984540054, 6)
        if (successes < trials) expect(score(upper)).toBeCloseTo(-1.959963984540054, 6)
      }),
    )
  })

  test('reaches exactly to none and to all', () => {
    expect(wilsonInterval(0, 20).lower).toBe(0)
    expect(wilsonInterval(29, 29).upper).toBe(1)
    expect(wilsonInterval(20_000, 20_000).upper).toBe(1)
  })

  test('refuses counts that cannot be', () => {
    expect(() => wilsonInterval(0, 0)).toThrow('wilsonInterval requires at least one trial')
    expect(() => wilsonInterval(2, 1)).toThrow(RangeError)
    expect(() => wilsonInterval(Number.NaN, 1)).toThrow(RangeError)
  })
})

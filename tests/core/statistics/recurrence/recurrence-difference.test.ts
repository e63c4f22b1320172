import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { RecurrenceUnit } from '../../../../src/core/statistics/recurrence/mean-cumulative-function.ts'
import { recurrenceDifference } from '../../../../src/core/statistics/recurrence/recurrence-difference.ts'

const Z = 1.959963984540054

const unit = (end: number, ...events: number[]): RecurrenceUnit => ({ entry: 0, end, events })

/** Meeker & Escobar (1998), section 16.2, from memory: M = 1/3, 2/3, 4/3, 11/6 with variances 6/81, 6/81, 24/81, 163/216. */
const three = [unit(12, 5, 8), unit(16), unit(20, 1, 8, 16)]

/**
 * Two units, watched to 10 and to 18, with repairs at 5 and 9, and at 9. By hand: M = 1/2 at 5 and 3/2 at 9; of the two
 * units' sums of (own − mean)/2, at 5: 1/4 and −1/4, at 9 the same, since both repair: variance 1/16 + 1/16.
 */
const two = [unit(10, 5, 9), unit(18, 9)]

describe('recurrenceDifference', () => {
  test('by hand: differences as fractions, variances added up, at the ages of both', () => {
    const { from, until, points } = recurrenceDifference(three, two)
    expect([from, until]).toEqual([0, 18])
    expect(points.map(point => point.at_risk)).toEqual([
      [3, 2],
      [3, 2],
      [3, 2],
      [3, 2],
      [2, 1],
    ])
    expect(points.map(point => point.at)).toEqual([1, 5, 8, 9, 16])
    const wanted: [difference: number, variance: number][] = [
      [1 / 3 - 0, 6 / 81 + 0],
      [2 / 3 - 1 / 2, 6 / 81 + 1 / 8],
      [4 / 3 - 1 / 2, 24 / 81 + 1 / 8],
      [4 / 3 - 3 / 2, 24 / 81 + 1 / 8],
      [11 / 6 - 3 / 2, 163 / 216 + 1 / 8],
    ]
    points.forEach(({ difference, se, lower, upper }, at) => {
      const [byHand, variance] = wanted[at]!
      expect(difference).toBeCloseTo(byHand, 14)
      expect(se ** 2).toBeCloseTo(variance, 14)
      expect([lower, upper]).toEqual([difference - Z * se, difference + Z * se])
    })
  })

  test('says nothing of ages at which only one group is still watched', () => {
    const agesOf = (other: RecurrenceUnit) => recurrenceDifference(three, [other]).points.map(point => point.at)
    expect(agesOf(unit(15, 2))).toEqual([1, 2, 5, 8])
    expect(agesOf(unit(3))).toEqual([1])
  })

  test('counts from the age at which both are watched: what came before in one says nothing of the other', () => {
    // from 6 on: of three at risk two repair at 8, of two at risk one at 16; the other group one of one at 7 and at 16
    const { from, until, points } = recurrenceDifference(three, [{ entry: 6, end: 17, events: [5, 7, 16] }])
    expect([from, until]).toEqual([6, 17])
    expect(points.map(({ at, difference }) => [at, difference])).toEqual([
      [7, -1],
      [8, 2 / 3 - 1],
      [16, 2 / 3 + 1 / 2 - 2],
    ])
    // variance at 8 by hand: units of (1 − 2/3)/3, twice, and −(2/3)/3
    expect(points[1]!.se ** 2).toBeCloseTo(6 / 81, 14)
  })

  test('ends where nobody of a group is watched for a while, and passes over what never met', () => {
    const gap = [
      { entry: 0, end: 4, events: [1] },
      { entry: 9, end: 20, events: [10] },
    ]
    expect(recurrenceDifference(three, gap)).toMatchObject({ from: 0, until: 4, points: [{ at: 1 }] })
    const late = [{ entry: 0, end: 20, events: [2, 12] }]
    const early = [
      { entry: 10, end: 11, events: [] },
      { entry: 11, end: 15, events: [12] },
    ]
    expect(recurrenceDifference(late, early)).toMatchObject({
      from: 10,
      until: 15,
      points: [{ at: 12, difference: 0 }],
    })
    expect(recurrenceDifference([unit(5, 2)], [{ entry: 6, end: 9, events: [7] }])).toEqual({
      ...{ from: 0, until: 0, points: [] },
    })
  })

  test('a group without units, without repairs, and the group itself', () => {
    expect(recurrenceDifference([], three).points).toEqual([])
    expect(recurrenceDifference([], [])).toEqual({ from: 0, until: 0, points: [] })
    expect(recurrenceDifference([unit(9)], [unit(9)])).toEqual({ from: 0, until: 9, points: [] })
    const own = recurrenceDifference(three, three).points
    expect(own.map(({ difference }) => difference)).toEqual([0, 0, 0, 0])
    expect(own[0]!.se).toBeCloseTo(Math.sqrt(12 / 81), 14)
  })

  test('the other way round only the sign turns', () => {
    const anyGroup = fc.array(
      fc
        .record({
          entry: fc.nat(12),
          length: fc.integer({ min: 1, max: 20 }),
          ages: fc.array(fc.nat(30), { maxLength: 5 }),
        })
        .map(({ entry, length, ages }) => ({
          ...{ entry, end: entry + length },
          events: ages.filter(age => age <= entry + length),
        })),
      { minLength: 1, maxLength: 6 },
    )
    fc.assert(
      fc.property(anyGroup, anyGroup, (one, other) => {
        const turned = recurrenceDifference(other, one).points
        const { from, until, points } = recurrenceDifference(one, other)
        expect(turned).toHaveLength(points.length)
        expect(points.every(point => point.at > from && point.at <= until)).toBe(true)
        points.forEach(({ at, difference, se, lower, upper }, i) => {
          expect(turned[i]!.at).toBe(at)
          expect(turned[i]!.difference).toBeCloseTo(-difference, 12)
          expect(turned[i]!.se).toBeCloseTo(se, 12)
          expect(turned[i]!.lower).toBeCloseTo(-upper, 12)
          expect([difference, se, lower, upper].every(Number.isFinite)).toBe(true)
        })
      }),
    )
  })
})

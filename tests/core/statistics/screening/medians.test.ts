import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { quantileType7 } from '../../../../src/core/statistics/screening/quantile-type7.ts'
import { theilSen } from '../../../../src/core/statistics/screening/theil-sen.ts'

const value = fc.integer({ min: -100, max: 100 })

describe('quantileType7', () => {
  test('gives quartiles by straight line', () => {
    expect([0, 0.25, 0.5, 0.75, 1].map(p => quantileType7([1, 2, 3, 4], p))).toEqual([1, 1.75, 2.5, 3.25, 4])
    expect([0, 0.25, 0.5, 1].map(p => quantileType7([7], p))).toEqual([7, 7, 7, 7])
    expect(quantileType7([2, 2, 2], 0.9)).toBe(2)
  })

  test('of n values puts the k-th at (k − 1)/(n − 1)', () => {
    fc.assert(
      fc.property(fc.array(value, { minLength: 2, maxLength: 30 }), values => {
        const sorted = values.toSorted((a, b) => a - b)
        sorted.forEach((wanted, k) => {
          expect(quantileType7(sorted, k / (sorted.length - 1))).toBeCloseTo(wanted, 9)
        })
      }),
    )
  })

  test('refuses no value and what is no probability', () => {
    expect(() => quantileType7([], 0.5)).toThrow('quantileType7 requires at least one value')
    for (const p of [-0.1, 1.1, Number.NaN]) expect(() => quantileType7([1], p)).toThrow(RangeError)
  })
})

describe('theilSen', () => {
  test('is the middle of all slopes, written out', () => {
    const points = [
      { x: 0, y: 0 },
      { x: 10, y: 400 },
      { x: 30, y: 900 },
    ]
    expect(theilSen(points)).toBe(30) // slopes 40, 30, 25
    expect(theilSen([...points, { x: 30, y: 900 }])).toBe((30 + 30) / 2) // 25, 25, 30, 30, 40; the twins give none
  })

  test('is the slope of points on a line, whatever a quarter of them say', () => {
    fc.assert(
      fc.property(
        value,
        value,
        fc.array(fc.integer({ min: -1e6, max: 1e6 }), { minLength: 3, maxLength: 3 }),
        (slope, at, wild) => {
          const points = Array.from({ length: 13 }, (_, x) => ({ x, y: at + slope * x }))
          wild.forEach((y, i) => {
            points[i * 4]!.y = y
          })
          expect(theilSen(points)).toBe(slope)
        },
      ),
    )
  })

  test('has no slope without two different x', () => {
    expect(theilSen([])).toBeNull()
    expect(theilSen([{ x: 1, y: 2 }])).toBeNull()
    expect(
      theilSen([
        { x: 1, y: 2 },
        { x: 1, y: 5 },
      ]),
    ).toBeNull()
    expect(() => theilSen([{ x: 1, y: Number.NaN }])).toThrow('theilSen requires finite points')
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { meanDirection } from '../../../../src/core/statistics/screening/mean-direction.ts'
import { rayleigh } from '../../../../src/core/statistics/screening/rayleigh.ts'
import published from '../../../published/statistics/rayleigh.json' with { type: 'json' }
import { expectPrinted } from '../printed.ts'

const even = (count: number) => new Array<number>(12).fill(count)
const only = (month: number, count: number) => even(0).map((_, i) => (i === month - 1 ? count : 0))

describe('meanDirection', () => {
  test('gives the published direction, length and Rayleigh statistic of eight angles', () => {
    const { inputs, expected } = published
    const { mean_direction_deg, resultant_length } = meanDirection(
      inputs,
      inputs.map(() => 1),
    )
    expectPrinted(mean_direction_deg, expected.mean_deg, 0)
    expectPrinted(resultant_length, expected.r, 5)
    expectPrinted(inputs.length * resultant_length ** 2, expected.z, 3)
  })

  test('lies between two directions and cancels between opposite ones', () => {
    expect(meanDirection([0, 90], [1, 1]).mean_direction_deg).toBeCloseTo(45, 12)
    expect(meanDirection([350, 20], [1, 1]).mean_direction_deg).toBeCloseTo(5, 12)
    expect(meanDirection([15, 195], [3, 3])).toEqual({ mean_direction_deg: null, resultant_length: 0 })
    expect(meanDirection([], [])).toEqual({ mean_direction_deg: null, resultant_length: 0 })
    expect(() => meanDirection([1], [])).toThrow('meanDirection requires one weight a direction')
    expect(() => meanDirection([1], [-1])).toThrow(RangeError)
    expect(() => meanDirection([Number.NaN], [1])).toThrow(RangeError)
  })
})

describe('rayleigh', () => {
  test('a trouble of January alone points at 15 degrees with all its length', () => {
    const { peak_month, mean_direction_deg, resultant_length, p } = rayleigh(only(1, 9), even(20))
    expect(peak_month).toBe(1)
    expect(mean_direction_deg).toBeCloseTo(15, 9)
    expect(resultant_length).toBeCloseTo(1, 12)
    expect(p).toBe(1 / 10_001)
  })

  test('gives nearly the p of the published approximation when work is even over the year', () => {
    // Zar (2010) equation 27.4: p = exp(√(1 + 4n + 4(n² − R²)) − (1 + 2n)); good to about a thousandth at n = 20
    const months = [6, 3, 2, 1, 0, 1, 0, 1, 1, 1, 1, 3]
    const { resultant_length, p } = rayleigh(months, even(4000))
    const n = 20
    const approximate = Math.exp(Math.sqrt(1 + 4 * n + 4 * (n ** 2 - (n * resultant_length) ** 2)) - (1 + 2 * n))
    expect(approximate).toBeGreaterThan(0.001)
    expect(Math.abs(p - approximate)).toBeLessThan(0.005)
  })

  test('a season that is only the season of the work is none', () => {
    const work = [90, 80, 60, 30, 10, 10, 10, 10, 20, 40, 60, 80]
    expect(rayleigh([9, 8, 6, 3, 1, 1, 1, 1, 2, 4, 6, 8], work).p).toBeGreaterThan(0.2)
    expect(rayleigh([9, 8, 6, 3, 1, 1, 1, 1, 2, 4, 6, 8], even(40)).p).toBeLessThan(0.001)
  })

  test('counts draws that are as great on paper as at least as great', () => {
    // every draw of one month has length one, and every draw of all jobs is the same
    expect(rayleigh(only(6, 1), even(3)).p).toBe(1)
    expect(rayleigh([5, 1, 4, 2, 0, 0, 3, 1, 2, 6, 0, 1], [5, 1, 4, 2, 0, 0, 3, 1, 2, 6, 0, 1]).p).toBe(1)
  })

  test('gives nearly the share of all samples from a few jobs that point as strongly', () => {
    const jobs = [3, 1, 0, 2, 0, 1, 2, 0, 0, 1, 0, 2]
    const months = [2, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1]
    const pool = jobs.flatMap((number, month) => new Array<number>(number).fill(month))
    const length = (sample: number[]) => {
      const angles = sample.map(month => ((30 * month + 15) * Math.PI) / 180)
      const sum = (of: (angle: number) => number) => angles.reduce((total, angle) => total + of(angle), 0)
      return Math.hypot(sum(Math.cos), sum(Math.sin))
    }
    const seen = length([0, 0, 1, 11])
    let [all, asGreat] = [0, 0]
    for (let chosen = 0; chosen < 2 ** pool.length; chosen++) {
      const sample = pool.filter((_, i) => (chosen >> i) % 2 === 1)
      if (sample.length !== 4) continue
      all++
      if (length(sample) >= seen - 1e-9) asGreat++
    }
    expect(Math.abs(rayleigh(months, jobs).p - asGreat / all)).toBeLessThan(0.01)
  })

  test('the same seed gives the same p, turning the year turns only the direction', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(4), { minLength: 12, maxLength: 12 }), months => {
        const one = rayleigh(months, even(5))
        expect(rayleigh(months, even(5))).toEqual(one)
        const turned = rayleigh([...months.slice(3), ...months.slice(0, 3)], even(5))
        expect(turned.resultant_length).toBeCloseTo(one.resultant_length, 9)
        expect(Math.abs(turned.p - one.p)).toBeLessThan(0.03)
        if (one.peak_month !== null && turned.mean_direction_deg !== null) {
          expect(Math.cos(((turned.mean_direction_deg + 90 - one.mean_direction_deg!) * Math.PI) / 180)).toBeCloseTo(
            1,
            6,
          )
        }
      }),
      { numRuns: 8 },
    )
  })

  test('edges: nothing seen, more seen than jobs, wrong counts', () => {
    expect(rayleigh(even(0), even(3))).toEqual({
      peak_month: null,
      mean_direction_deg: null,
      resultant_length: 0,
      p: 1,
    })
    expect(rayleigh(only(2, 4), even(0)).p).toBe(1)
    expect(rayleigh(even(2), even(2)).peak_month).toBeNull()
    for (const bad of [[1, 2], even(0.5), even(-1), even(Number.NaN)])
      expect(() => rayleigh(bad, even(1))).toThrow(RangeError)
    expect(() => rayleigh(even(1), [1])).toThrow('rayleigh requires twelve counts of zero or more')
  })
})

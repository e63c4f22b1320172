import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { benjaminiHochberg } from '../../../../src/core/statistics/screening/benjamini-hochberg.ts'
import published from '../../../published/statistics/benjamini-hochberg.json' with { type: 'json' }

/** The definition, every pair of ranks looked at. */
function byHand(pValues: readonly number[]): number[] {
  return pValues.map(p => {
    const worse = pValues.filter(other => other >= p)
    return Math.min(1, ...worse.map(other => (other * pValues.length) / pValues.filter(x => x <= other).length))
  })
}

describe('benjaminiHochberg', () => {
  test('finds the four of the fifteen that the paper finds at 5 %', () => {
    const q = benjaminiHochberg(published.inputs)
    expect(q.filter(value => value <= 0.05)).toHaveLength(published.expected.rejected_at_q_0_05)
    const bonferroni = published.inputs.filter(p => p * published.inputs.length <= 0.05)
    expect(bonferroni).toHaveLength(published.expected.bonferroni_rejected_at_0_05)
  })

  test('agrees with the definition, ties included and in any order', () => {
    const p = fc.oneof(fc.double({ min: 0, max: 1, noNaN: true }), fc.constantFrom(0, 0.01, 0.5, 1))
    fc.assert(
      fc.property(fc.array(p, { maxLength: 25 }), pValues => {
        const wanted = byHand(pValues)
        benjaminiHochberg(pValues).forEach((q, i) => {
          expect(q).toBeCloseTo(wanted[i]!, 12)
        })
      }),
    )
  })

  test('edges: none, one, all tied', () => {
    expect(benjaminiHochberg([])).toEqual([])
    expect(benjaminiHochberg([0.03])).toEqual([0.03])
    expect(benjaminiHochberg([0.2, 0.2, 0.2])).toEqual([0.2, 0.2, 0.2])
    expect(benjaminiHochberg([0.01, 0.04])).toEqual([0.02, 0.04])
    expect(() => benjaminiHochberg([0.1, Number.NaN])).toThrow('benjaminiHochberg requires p values from 0 to 1')
  })
})

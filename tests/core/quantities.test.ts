import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { fromSi, toSi, type Unit } from '../../src/core/quantities.ts'
import { publishedRows } from './fastening/published.ts'

const rows = publishedRows<{ x: { value: number; unit: Unit } }, { value: number; unit: Unit }>('units')

describe('toSi and fromSi', () => {
  test.each(rows.map(row => [row.id, row] as const))('%s as published', (_, { inputs, expected }) => {
    const si = toSi(inputs.x.value, inputs.x.unit)
    expect(Math.abs(si / expected.value - 1)).toBeLessThan(1e-12)
    expect(toSi(1, expected.unit)).toBe(1)
  })

  it('turn each other back', () => {
    const units = fc.constantFrom<Unit>('N.m', 'kgf.m', 'lbf.ft', 'lbf.in', 'deg', 'km', 'mi')
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e6, noNaN: true }), units, (value, unit) => {
        expect(fromSi(toSi(value, unit), unit) / value).toBeCloseTo(1, 13)
      }),
    )
  })

  it('refuse what is no number', () => {
    expect(() => toSi(Number.NaN, 'N.m')).toThrow('toSi requires a finite value')
    expect(() => fromSi(Number.POSITIVE_INFINITY, 'km')).toThrow('fromSi requires a finite value')
  })
})

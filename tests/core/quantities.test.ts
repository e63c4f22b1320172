import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { fromSi, toSi, type Unit } from '../../src/core/quantities.ts'
import { torqueInShopUnit } from '../../src/core/words.ts'
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

describe('torqueInShopUnit', () => {
  test.each([
    [25, 'N.m', '25\u00a0N·m'],
    [36.449, 'N.m', '36.4\u00a0N·m'],
    [4.256, 'N.m', '4.26\u00a0N·m'],
    // NIST SP 811: 1 lbf·ft = 1.355 817 948 N·m
    [25, 'lbf.ft', '25\u00a0N·m (18.4\u00a0lbf·ft)'],
    [25, 'lbf.in', '25\u00a0N·m (221.3\u00a0lbf·in)'],
    [98.0665, 'kgf.m', '98.1\u00a0N·m (10\u00a0kgf·m)'],
  ] as const)('%s N·m where the workshop likes %s', (nm, torque_unit, words) => {
    expect(torqueInShopUnit(nm, { torque_unit })).toBe(words)
  })
})

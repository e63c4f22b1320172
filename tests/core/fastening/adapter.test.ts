import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { adapter } from '../../../src/core/fastening/adapter.ts'
import { fromSi, toSi, type Unit } from '../../../src/core/quantities.ts'
import { publishedIds, publishedRow } from './published.ts'

interface Lengths {
  T: { value: number; unit: Unit }
  L: { value: number }
  E: { value: number }
  theta?: { value: number }
}

describe('adapter', () => {
  const manuals = ['adapter.tm1-1500', 'adapter.tm5-3805']

  it('leaves no published row unchecked', () => {
    expect(publishedIds('adapters')).toEqual([...manuals, 'adapter.angle'])
  })

  test.each(manuals)('%s', id => {
    const { inputs, expected } = publishedRow<Lengths, { T_set_exact: number; T_set_printed: number }>('adapters', id)
    const setNm = adapter({
      target_nm: toSi(inputs.T.value, inputs.T.unit),
      wrench_length_mm: inputs.L.value * 25.4,
      adapter_length_mm: inputs.E.value * 25.4,
      angle_deg: inputs.theta!.value,
    })
    const set = fromSi(setNm, inputs.T.unit)
    expect(set).toBeCloseTo(expected.T_set_exact, 3)
    expect(Math.abs(set - expected.T_set_printed)).toBeLessThan(0.5)
  })

  it('turns with the angle (adapter.angle)', () => {
    const { inputs, expected } = publishedRow<Lengths, Record<string, number>>('adapters', 'adapter.angle')
    for (const angle_deg of [0, 45, 90, 180]) {
      const lengths = { wrench_length_mm: inputs.L.value, adapter_length_mm: inputs.E.value }
      const set = adapter({ target_nm: inputs.T.value, ...lengths, angle_deg })
      expect(Math.abs(set - expected[`theta ${angle_deg}`]!)).toBeLessThan(0.001)
    }
  })

  it('sets less for any adapter that lengthens, and the target where it lengthens nothing', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 89, noNaN: true }),
        fc.integer({ min: 1, max: 400 }),
        (angle_deg, length) => {
          const set = adapter({ target_nm: 100, wrench_length_mm: 400, adapter_length_mm: length, angle_deg })
          expect(set).toBeLessThan(100)
          expect(set).toBeGreaterThan(40)
        },
      ),
    )
    expect(adapter({ target_nm: 100, wrench_length_mm: 400, adapter_length_mm: 50, angle_deg: 90 })).toBeCloseTo(100, 9)
  })

  it('refuses lengths that are none, and an adapter that reaches back past the hand', () => {
    const good = { target_nm: 100, wrench_length_mm: 400, adapter_length_mm: 50, angle_deg: 0 }
    expect(() => adapter({ ...good, target_nm: 0 })).toThrow('adapter requires a target above zero')
    expect(() => adapter({ ...good, wrench_length_mm: 0 })).toThrow('adapter requires a wrench length above zero')
    expect(() => adapter({ ...good, adapter_length_mm: -1 })).toThrow(
      'adapter requires an adapter length of zero or more',
    )
    expect(() => adapter({ ...good, angle_deg: Number.NaN })).toThrow('adapter requires a finite angle')
    expect(() => adapter({ ...good, adapter_length_mm: 400, angle_deg: 180 })).toThrow('far side of the hand')
  })
})

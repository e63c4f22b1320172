import { describe, expect, it, test } from 'vitest'
import { PROPERTY_CLASSES, proofStress } from '../../../src/core/fastening/proof-stress.ts'
import { thread } from '../../../src/core/fastening/thread.ts'
import { threadDesignation } from '../../../src/core/fastening/thread-designation.ts'
import { publishedIds, publishedRow, publishedRows, toFigures } from './published.ts'

interface Size {
  d: { value: number }
  P: { value: number }
  As_printed: { value: number }
}
interface Diameters {
  d2_mm: number
  d1_mm: number
  d3_mm: number
  As_mm2_exact: number
  As_mm2_printed_ISO898_1: number
}
interface Strengths {
  Rm_min: Record<string, number>
  Sp_nom: Record<string, number>
}

const strengths = publishedRow<object, Strengths>('strength', 'iso898.strengths').expected
/** The strength of a class in a table that splits 8.8 at M16. */
const of = (table: Record<string, number>, name: string, d: number) =>
  table[name] ?? table[`${name} d${d > 16 ? '>' : '<='}16`]!

describe('thread', () => {
  test.each(publishedRows<Size, Diameters>('threads').map(row => [row.id, row] as const))(
    '%s as in ISO 724 and ISO 898-1',
    (id, { inputs, expected }) => {
      const size = thread(inputs.d.value, inputs.P.value)
      expect(Math.abs(size.pitch_diameter_mm - expected.d2_mm)).toBeLessThan(0.0006)
      expect(Math.abs(size.minor_diameter_mm - expected.d1_mm)).toBeLessThan(0.0006)
      expect(Math.abs(size.root_diameter_mm - expected.d3_mm)).toBeLessThan(0.0006)
      expect(Math.abs(size.stress_area_mm2 / expected.As_mm2_exact - 1)).toBeLessThan(5e-5)
      expect(toFigures(size.stress_area_mm2, 3)).toBe(expected.As_mm2_printed_ISO898_1)
      expect(threadDesignation(id.replace('thread.', ''))).toEqual({
        diameter_mm: inputs.d.value,
        pitch_mm: inputs.P.value,
      })
    },
  )

  it('refuses what is no thread', () => {
    expect(() => thread(0, 1)).toThrow('thread requires a diameter above zero')
    expect(() => thread(10, 0)).toThrow('thread requires a pitch above zero')
    expect(() => thread(1, 1)).toThrow('thread requires a pitch small enough to leave a root')
    expect(() => thread(Number.NaN, 1)).toThrow(RangeError)
  })
})

describe('proofStress', () => {
  it('has the published stress of every class, 8.8 by size', () => {
    for (const d of [10, 16, 20])
      for (const name of PROPERTY_CLASSES) expect(proofStress(name, d)).toBe(of(strengths.Sp_nom, name, d))
  })

  it('refuses a class that it does not know', () => {
    expect(() => proofStress('9.9', 10)).toThrow('proofStress requires a property class among 4.6')
    expect(() => proofStress('constructor', 10)).toThrow(RangeError)
  })
})

describe('printed loads of ISO 898-1', () => {
  const rows = publishedRows<Size, Record<string, number>>('strength').filter(row => /proof|tensile/.test(row.id))
  const rounding = publishedRow<object, Record<string, Record<string, string>>>('strength', 'iso898.rounding').expected

  it('leaves no published row unchecked', () => {
    expect(publishedIds('strength')).toEqual([...rows.map(row => row.id), 'iso898.strengths', 'iso898.rounding'])
  })

  test.each(rows.map(row => [row.id, row] as const))('%s', (id, { inputs, expected }) => {
    const isProof = id.includes('proof')
    const area = thread(inputs.d.value, inputs.P.value).stress_area_mm2
    const exceptions = rounding[isProof ? 'exceptions_proof' : 'exceptions_tensile']!
    for (const name of PROPERTY_CLASSES) {
      const stress = isProof ? proofStress(name, inputs.d.value) : of(strengths.Rm_min, name, inputs.d.value)
      expect(Math.abs((area * stress) / expected[name]! - 1), name).toBeLessThan(0.007)
      // iso898.rounding: printed loads come from areas already rounded to three figures.
      const load = Number((inputs.As_printed.value * stress).toFixed(6))
      const rounded = toFigures(load, 3)
      const isTie = Math.abs(load - rounded) * 2 === 10 ** (Math.floor(Math.log10(load)) - 2)
      if (!(`M${inputs.d.value} ${name}` in exceptions) && !isTie) expect(rounded, name).toBe(expected[name])
      expect(Math.abs(load / expected[name]! - 1), name).toBeLessThan(0.0051)
    }
  })
})

describe('threadDesignation', () => {
  test.each([
    ['M10', 10, 1.5],
    ['m10 × 1,25', 10, 1.25],
    ['M12X1.5', 12, 1.5],
  ])('reads %s', (text, diameter_mm, pitch_mm) => {
    expect(threadDesignation(text)).toEqual({ diameter_mm, pitch_mm })
  })

  test.each(['', '10x1.5', 'M11', 'M10x0', 'M10 coarse'])('reads nothing into "%s"', text => {
    expect(threadDesignation(text)).toBeNull()
  })
})

import { describe, expect, it, test } from 'vitest'
import { type PreloadInput, preload } from '../../../src/core/fastening/preload.ts'
import { thread } from '../../../src/core/fastening/thread.ts'
import { threadDesignation } from '../../../src/core/fastening/thread-designation.ts'
import { publishedIds, publishedRow, publishedRows } from './published.ts'

interface Bolt {
  thread: string
  'mu_G=mu_K': number
  nu?: number
  DKm: { value: number }
  Rp02_min_MPa?: Record<string, number>
}
interface Assembly {
  FM_kN: Record<string, number>
  MA_Nm: Record<string, number>
}

const RP_MIN = { '8.8': 640, '10.9': 940, '12.9': 1100 }
const m10: PreloadInput = {
  ...{ diameter_mm: 10, pitch_mm: 1.5, class: '8.8', torque_nm: 48 },
  ...{ mu_thread: 0.12, mu_head: 0.12, bearing_diameter_mm: 12.815 },
}

describe('preload', () => {
  const tables = publishedRows<Bolt, Assembly>('preload').filter(row => /fine|coarse/.test(row.id))

  it('leaves no published row unchecked', () => {
    const others = ['vdi2230.alphaA', 'preload.nasa.uncertainty']
    expect(publishedIds('preload')).toEqual([...tables.map(row => row.id), ...others])
  })

  test.each(tables.map(row => [row.id, row] as const))('%s as tabulated in VDI 2230', (_, { inputs, expected }) => {
    const size = threadDesignation(inputs.thread)!
    const mu = inputs['mu_G=mu_K']
    const { pitch_diameter_mm: d2, root_diameter_mm: d3, stress_area_mm2 } = thread(size.diameter_mm, size.pitch_mm)
    for (const [name, strength] of Object.entries(inputs.Rp02_min_MPa ?? RP_MIN)) {
      // Assembly preload at 90 % of the yield point with the torsion of tightening (VDI 2230, eq. 5.5/1).
      const torsion = 1.5 * (d2 / ((d2 + d3) / 2)) * (size.pitch_mm / (Math.PI * d2) + 1.155 * mu)
      const assemblyN = (stress_area_mm2 * (inputs.nu ?? 0.9) * strength) / Math.sqrt(1 + 3 * torsion ** 2)
      expect(Math.abs(assemblyN / 1000 / expected.FM_kN[name]! - 1), name).toBeLessThan(0.005)
      const bolt = { ...size, class: name, mu_thread: mu, mu_head: mu, bearing_diameter_mm: inputs.DKm.value }
      const perNm = preload({ ...bolt, torque_nm: 1 }).preload_n
      expect(Math.abs(assemblyN / perNm / expected.MA_Nm[name]! - 1), name).toBeLessThan(0.012)
    }
  })

  it('scatters as the tightening factor of the method says (vdi2230.alphaA)', () => {
    const methods = publishedRow<object, { method: string; alpha_A: number[]; scatter_pct: number[] }[]>(
      'preload',
      'vdi2230.alphaA',
    ).expected
    expect(methods.length).toBe(9)
    for (const { method, alpha_A, scatter_pct } of methods)
      for (const [at, factor] of alpha_A.entries()) {
        const { preload_n, preload_low_n, preload_high_n } = preload(m10, factor)
        expect(Math.abs(100 * (preload_high_n / preload_n - 1) - scatter_pct[at]!), method).toBeLessThan(1)
        expect(Math.abs(100 * (1 - preload_low_n / preload_n) - scatter_pct[at]!), method).toBeLessThan(1)
      }
  })

  it('reports a third either way for a torque wrench, within a hand of spacecraft practice (preload.nasa.uncertainty)', () => {
    const row = publishedRow<object, Record<string, number>>('preload', 'preload.nasa.uncertainty').expected
    const { preload_n, preload_low_n, preload_high_n } = preload(m10)
    expect(preload_low_n).toBeCloseTo((preload_n * 2) / 3, 6)
    expect(preload_high_n).toBeCloseTo((preload_n * 4) / 3, 6)
    const scatter = 1 - preload_low_n / preload_n
    expect(scatter).toBeGreaterThan(row.lubricated!)
    expect(scatter).toBeLessThan(row.unlubricated_or_as_received!)
  })

  it('gives proof load and utilisation by the unrounded area', () => {
    const estimate = preload(m10)
    expect(estimate.stress_area_mm2).toBeCloseTo(57.9896, 3)
    expect(estimate.proof_load_n).toBe(estimate.stress_area_mm2 * 580)
    expect(estimate.utilisation).toBe(estimate.preload_n / estimate.proof_load_n)
  })

  test.each<[Partial<PreloadInput>, string]>([
    [{ diameter_mm: 0 }, 'preload requires a diameter above zero'],
    [{ torque_nm: -1 }, 'preload requires a torque above zero'],
    [{ bearing_diameter_mm: Number.NaN }, 'preload requires a bearing diameter above zero'],
    [{ mu_head: -0.1 }, 'preload requires friction of zero or more'],
    [{ pitch_mm: 0 }, 'thread requires a pitch above zero'],
    [{ class: '11' }, 'proofStress requires a property class'],
    [{ torque_nm: 1e308 }, 'preload requires a torque and sizes of real bolts'],
    [{ diameter_mm: 1e200 }, 'preload requires a torque and sizes of real bolts'],
  ])('refuses %j', (change, message) => {
    expect(() => preload({ ...m10, ...change })).toThrow(message)
  })

  it('refuses a tightening factor below one', () => {
    expect(() => preload(m10, 0.9)).toThrow('preload requires a tightening factor of one or more')
  })
})

import { describe, expect, test } from 'vitest'
import { eachTestItsApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

describe('the computations of fastening', () => {
  test('answer 200, store nothing and need no key', async () => {
    const t = await app()
    const ask = (name: string, body: object, more: object = {}) =>
      scenario(t, { as: 'desk', post: `/api/fastening/${name}`, body, key: null, expect: 200, events: 0, ...more })
    // the worked example of JCGM 106 style: 100 N·m ± 10 %, U = 4
    expect((await ask('verdict', { lower: 90, upper: 110, value: 107, uncertainty: 4 })).body.verdict).toBe('unsure')
    expect((await ask('verdict', { lower: 90, upper: 110, value: 120, uncertainty: null })).body).toEqual({
      verdict: 'outside',
      conformance_probability: null,
    })
    // ASME PCC-1, legacy cross pattern for four bolts
    expect((await ask('sequence', { layout: 'circle', count: 4 })).body).toEqual({ order: [1, 3, 2, 4] })
    const extended = { target_nm: 100, wrench_length_mm: 400, adapter_length_mm: 100, angle_deg: 0 }
    expect((await ask('adapter', extended)).body.set_nm).toBeCloseTo(80, 10)
    const bolt = {
      diameter_mm: 8,
      pitch_mm: 1.25,
      class: '8.8',
      torque_nm: 25,
      mu_thread: 0.12,
      mu_head: 0.12,
      bearing_diameter_mm: 10.3,
    }
    expect((await ask('preload', bolt)).body.stress_area_mm2).toBeCloseTo(36.6, 1)
    await ask('sequence', { layout: 'rectangle', count: 7, rows: 2 }, { expect: 422, fields: ['/rows'] })
    await ask('verdict', { lower: 110, upper: 90, value: 100, uncertainty: 1 }, { expect: 422 })
    await ask('preload', { ...bolt, class: '99' }, { expect: 422 })
  })
})

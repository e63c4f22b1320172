import fc from 'fast-check'
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
  })

  const BOLT = {
    ...{ diameter_mm: 8, pitch_mm: 1.25, class: '8.8', torque_nm: 25 },
    ...{ mu_thread: 0.12, mu_head: 0.12, bearing_diameter_mm: 10.3 },
  }
  const REACH = { target_nm: 100, wrench_length_mm: 400, adapter_length_mm: 100, angle_deg: 0 }

  test.each([
    ['verdict', { lower: 110, upper: 90, value: 100, uncertainty: 1 }, ['/lower'], 'The lower limit 110 lies above'],
    ['sequence', { layout: 'rectangle', count: 7, rows: 2 }, ['/rows'], '7 fasteners cannot stand in 2 equal rows'],
    ['sequence', { layout: 'rectangle', count: 7 }, ['/rows'], 'A rectangle needs its number of rows'],
    ['adapter', { ...REACH, adapter_length_mm: 500, angle_deg: 180 }, ['/angle_deg'], 'reaches back past the hand'],
    ['preload', { ...BOLT, class: '99' }, ['/class'], '“99” has no proof stress in ISO 898-1. Known are 4.6, 4.8'],
    ['preload', { ...BOLT, pitch_mm: 7 }, ['/pitch_mm'], 'A thread of 8 mm with a pitch of 7 mm'],
    ['preload', { ...BOLT, class: '8', pitch_mm: 7 }, ['/class', '/pitch_mm'], 'Look at both'],
    ['preload', { ...BOLT, torque_nm: 1e-300 }, ['/torque_nm'], 'This must be 0.001 or more'],
    ['adapter', { ...REACH, target_nm: 1e-300 }, ['/target_nm'], 'This must be 0.001 or more'],
  ])('%s refuses %o in plain words, at %o', async (name, body, fields, words) => {
    const post = `/api/fastening/${name}`
    const reply = await scenario(await app(), { as: 'desk', post, body, key: null, expect: 422, fields })
    expect(reply.body.detail).toContain(words)
    expect(reply.text).not.toContain('requires')
  })

  test('whatever the contract lets through is answered with a number, or refused at a field', async () => {
    const t = await app()
    const edge = fc.constantFrom(0, 0.01, 0.001, 1, 1.226869, 2, 7.9, 90, 180, -180, 200, 1e-9, 1e308, 5e-324)
    const number = fc.oneof(edge, fc.double({ noNaN: true, noDefaultInfinity: true }), fc.double({ min: 0, max: 300 }))
    const names = { verdict: ['lower', 'upper', 'value', 'uncertainty'], adapter: Object.keys(REACH) }
    const fields = { ...names, preload: Object.keys(BOLT).filter(name => name !== 'class') }
    for (const [name, keys] of Object.entries(fields)) {
      const body = fc.record(Object.fromEntries(keys.map(key => [key, number])))
      await fc.assert(
        fc.asyncProperty(body, async asked => {
          const payload = { ...asked, ...(name === 'preload' && { class: '8.8' }) }
          const headers = { authorization: `Bearer ${t.tokens.desk}` }
          const reply = await t.app.inject({ method: 'POST', url: `/api/fastening/${name}`, headers, payload })
          expect([200, 422]).toContain(reply.statusCode)
          if (reply.statusCode === 200)
            expect(reply.body.replace('"conformance_probability":null', '')).not.toContain('null')
          else expect(reply.json().errors).not.toHaveLength(0)
        }),
        { numRuns: 300 },
      )
    }
  }, 60_000)
})

import { beforeEach, describe, expect, test } from 'vitest'
import { recordTorque } from '../../src/fastening/index.ts'
import { recordCalibration, withdrawWrench } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

describe('GET /api/doubts', () => {
  test('a wrench found outside puts in doubt every joint that it touched since it was last good, until a person settles each', async () => {
    const joint = jointWith(t, w, { severity: 'safety' })
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    recordCalibration(w.owner, w.wrench, { made_on: '2031-03-03', certificate: 'K-200', found: 'outside', points: [] })
    const { body } = await scenario(t, { as: 'desk', get: '/api/doubts', expect: 200 })
    expect(body.items).toHaveLength(1)
    expect(body.items[0]).toMatchObject({
      cause: 'wrench',
      joint_id: joint,
      vehicle_id: w.vehicle,
      severity: 'safety',
      settled: null,
    })
    const settlement = { how: 'Looked at and tightened again with W-12' }
    const url = `/api/doubts/${body.items[0].id}/settlement`
    await scenario(t, { as: 'desk', post: url, body: settlement, expect: 403 })
    await scenario(t, { as: 'technician', post: url, body: settlement, expect: 201 })
    await scenario(t, { as: 'technician', post: url, body: settlement, expect: 409, problem: 'doubt-settled' })
    await scenario(t, { as: 'technician', post: '/api/doubts/nobody/settlement', body: settlement, expect: 404 })
  })

  test('a wrench taken out of use does the same, back to its last good certificate', async () => {
    const joint = jointWith(t, w)
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    withdrawWrench(w.technician, w.wrench, { at: '2031-03-03T07:30:00.000Z', reason: 'Fell off the lift' })
    const { body } = await scenario(t, { as: 'desk', get: '/api/doubts', expect: 200 })
    expect(body.items[0].sentence).toContain('Fell off the lift')
  })
})

describe('the computations of fastening', () => {
  test('answer 200, store nothing and need no key', async () => {
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

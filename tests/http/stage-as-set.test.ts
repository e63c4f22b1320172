import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import type { ProcedureRevisionInput } from '../../src/catalogue/index.ts'
import { jointStates, loadJoint, recordTorque } from '../../src/fastening/index.ts'
import { recordCalibration, registerAdapter, registerWrench } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string
let clicker: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  clicker = registerWrench(w.owner, { ...{ name: 'W-20', kind: 'clicks', min_nm: 5, max_nm: 50 }, length_mm: 400 }).id
  recordCalibration(w.owner, clicker, {
    ...{ made_on: '2031-01-15', certificate: 'K-119', found: 'good' },
    points: [{ at_nm: 25, uncertainty_nm: 1 }],
  })
  joint = aJoint()
})

const aJoint = (more: Partial<ProcedureRevisionInput> = {}) =>
  jointWith(t, w, { reuse: 'free', on_failure: 'restart', ...more })
const set = (body: object = {}, more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/stages-as-set`,
    body: { stage: 1, wrench_id: clicker, ...body },
    expect: 201,
    ...more,
  })
const records = async () =>
  (await scenario(t, { as: 'desk', get: `/api/joints/${joint}/torque-records`, expect: 200 })).body.items
const positions = (items: { position: number }[]) => items.map(item => item.position)

describe('POST /api/joints/{id}/stages-as-set', () => {
  test('writes one record for each fastener, in order, as set and never as measured, in one event', async () => {
    const { body, headers } = await set({}, { events: 1 })
    expect(positions(body.records)).toEqual(loadJoint(w.desk, joint).procedure.order)
    expect(positions(body.records).toSorted()).toEqual([1, 2, 3, 4, 5, 6])
    for (const record of body.records)
      expect(record).toMatchObject({
        ...{ stage: 1, fastener: 1, value: 25, unit: 'N.m', basis: 'set', verdict: 'as_set', wrench_id: clicker },
        ...{ stage_as_set_id: body.id, conformance_probability: null, uncertainty: 1 },
      })
    expect(body.left_out).toEqual([])
    expect(await records()).toEqual(body.records)
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect(jointStates(w.desk, [joint]).get(joint)!.sentence).toBe('6 of 6 still to tighten')
  })

  test('leaves alone who has the stage already, and says so when nobody needs it', async () => {
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    expect(positions((await set()).body.records)).not.toContain(1)
    await set({}, { expect: 422, fields: ['/stage'] })
    expect((await records())[0].basis).toBe('measured')
  })

  test('an exception gets its own event, its own reading, or nothing', async () => {
    const exceptions = [
      { position: 2, event: 'slipped' },
      { position: 3, value: 24.6, unit: 'N·m', basis: 'measured', wrench_id: w.wrench },
      { position: 5 },
    ]
    const { body } = await set({ exceptions })
    expect(body.records).toHaveLength(5)
    const at = (position: number) => body.records.find((record: { position: number }) => record.position === position)
    expect(at(2)).toMatchObject({ event: 'slipped', verdict: null, stage_as_set_id: body.id })
    expect(at(3)).toMatchObject({ value: 24.6, basis: 'measured', verdict: 'conforms', stage_as_set_id: body.id })
    expect(body.left_out).toEqual([
      { position: 5, sentence: 'Fastener 4 (position 5) was excepted, and nothing was recorded on it.' },
    ])
  })

  test('leaves out and names who has a fault of its own', async () => {
    recordTorque(w.technician, joint, reading(w, 4, 1, 40))
    const { body } = await set()
    expect(positions(body.records)).not.toContain(4)
    expect(body.left_out).toEqual([
      {
        position: 4,
        sentence: 'Fastener 2 (position 4) has a fault at stage 1: it is loosened and done again by itself.',
      },
    ])
  })

  test('an exception that makes the whole joint be done again undoes what was set with it', async () => {
    joint = aJoint({ on_failure: 'redo_joint' })
    await set({ exceptions: [{ position: 2, event: 'slipped' }] })
    const state = jointStates(w.desk, [joint]).get(joint)!
    expect(state.sentence).toBe('6 of 6 to do again')
    // the others are done again together, the one that slipped by itself
    const { body } = await set()
    expect(body.records).toHaveLength(5)
    expect(body.left_out).toHaveLength(1)
  })

  test('comes only after everybody’s earlier stages', async () => {
    joint = aJoint({
      stages: [
        { kind: 'torque', target: 15, lower: 10, upper: 20 },
        { kind: 'torque', target: 25, lower: 20, upper: 30 },
      ],
    })
    recordTorque(w.technician, joint, reading(w, 1, 1, 15))
    const { body } = await set({ stage: 2 }, { expect: 409, problem: 'stage-before-its-turn' })
    expect(body.detail).toBe('5 fasteners have not had stage 1 yet; stage 2 comes only after it. Nothing was recorded.')
    await set({ stage: 2, exceptions: [{ position: 2, value: 25, unit: 'N.m', basis: 'measured' }] }, { expect: 409 })
    expect(await records()).toHaveLength(1)
    await set({ stage: 1 })
    await set({ stage: 2 })
    expect(jointStates(w.desk, [joint]).get(joint)!.complete).toBe(true)
  })

  test('is kept as it was set, in the unit that was typed, and outside when it is not what the stage asks for', async () => {
    const { body } = await set({ value: 18.44, unit: 'lbf·ft' })
    expect(body.records[0]).toMatchObject({ value: 18.44, unit: 'lbf.ft', verdict: 'outside' })
    expect(body.records[0].value_si).toBeCloseTo(25.0013, 4)
    joint = aJoint()
    expect((await set({ unit: 'lbf.ft' })).body.records[0]).toMatchObject({ unit: 'lbf.ft', verdict: 'as_set' })
  })

  test('through an adapter the wrench is set to less, and the joint gets its target', async () => {
    const adapter = registerAdapter(w.owner, { name: 'Crowfoot 13', length_mm: 100 }).id
    const { body } = await set({ adapter_id: adapter })
    // TM 9-254, fig. 4-6: 25 · 400/(400 + 100) = 20
    expect(body.records[0]).toMatchObject({ value: 20, adapter_id: adapter, adapter_angle_deg: 0, verdict: 'as_set' })
    expect(body.records[0].value_si).toBeCloseTo(25, 12)
  })

  test.each([
    ['no wrench', { wrench_id: undefined }, ['/wrench_id']],
    ['a wrench in no register', { wrench_id: 'nobody' }, ['/wrench_id']],
    ['an angle stage', { stage: 2 }, ['/stage']],
    ['a stage outside the procedure', { stage: 7 }, ['/stage']],
    ['degrees', { unit: 'deg' }, ['/unit']],
    ['zero', { value: 0 }, ['/value']],
    ['a position outside the joint', { exceptions: [{ position: 9 }] }, ['/exceptions/0/position']],
    ['one position twice', { exceptions: [{ position: 2 }, { position: 2 }] }, ['/exceptions/1/position']],
    ['a reading without its basis', { exceptions: [{ position: 2, value: 24, unit: 'N.m' }] }, ['/exceptions/0/basis']],
    ['a word as event', { exceptions: [{ position: 2, event: 'fell off' }] }, ['/exceptions/0/event']],
    [
      'a wrench of an exception in no register',
      { exceptions: [{ position: 2, value: 24, unit: 'N.m', basis: 'measured', wrench_id: 'nobody' }] },
      ['/exceptions/0/wrench_id'],
    ],
    ['tomorrow', { made_at: '2031-03-04T08:00:00.000Z' }, ['/made_at']],
  ])('refuses %s by its field and records nothing', async (_, body, fields) => {
    await set(body, { expect: 422, fields })
    expect(await records()).toEqual([])
  })

  test('a wrench that shows what it measures is not set', async () => {
    const { body } = await set({ wrench_id: w.wrench }, { expect: 422, fields: ['/wrench_id'] })
    expect(body.detail).toContain('record each fastener with its own reading')
  })

  test('the workshop may forbid it on safety joints, and on no other', async () => {
    patchSettings(w.owner, { stage_as_set_on_safety: false }, settingsVersion(w.owner))
    await set()
    joint = aJoint({ severity: 'safety' })
    await set({}, { as: 'owner', expect: 409, problem: 'stage-as-set-not-allowed' })
    patchSettings(w.owner, { stage_as_set_on_safety: true }, settingsVersion(w.owner))
    await set()
  })

  test('a tolerance that the wrench cannot prove is not done by it', async () => {
    joint = aJoint({ stages: [{ kind: 'torque', target: 25, lower: 24.5, upper: 25.5 }] })
    expect((await set()).body.records[0].verdict).toBe('as_set')
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({ complete: false, trouble: true })
  })

  test('desk 403, unknown joint 404', async () => {
    await set({}, { as: 'desk', expect: 403 })
    await set({}, { post: '/api/joints/nobody/stages-as-set', expect: 404 })
  })
})

import fc from 'fast-check'
import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { recordTorque } from '../../src/fastening/index.ts'
import {
  recordCalibration,
  recordGaugeCheck,
  registerAdapter,
  registerGauge,
  registerWrench,
} from '../../src/tools/index.ts'
import { publishedRow } from '../core/fastening/published.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  joint = jointWith(t, w, { reuse: 'free', on_failure: 'restart' })
})

const record = (position: number, stage: number, value: number, more: object = {}, wanted: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/torque-records`,
    body: reading(w, position, stage, value, more),
    expect: 201,
    ...wanted,
  })

describe('an angle', () => {
  const angle = async (position: number, value: number, more: object = {}, wanted: object = {}) => {
    recordTorque(w.technician, joint, reading(w, position, 1, 25))
    return (await record(position, 2, value, more, wanted)).body
  }

  test('goes by the uncertainty of its gauge, else by the setting', async () => {
    const gauge = registerGauge(w.owner, { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: 0.5 }).id
    expect(await angle(1, 94)).toMatchObject({ uncertainty: 2, verdict: 'unsure' })
    expect(await angle(2, 94, { gauge_id: gauge })).toMatchObject({
      uncertainty: 0.5,
      verdict: 'conforms',
      gauge_id: gauge,
    })
  })

  test('from a paint mark goes by the setting for paint marks, unless the mark has its own', async () => {
    patchSettings(w.owner, { paint_mark_uncertainty_deg: 4 }, settingsVersion(w.owner))
    const paint = registerGauge(w.owner, { name: 'Paint', kind: 'paint_mark' }).id
    const fine = registerGauge(w.owner, { name: 'Fine line', kind: 'paint_mark', uncertainty_deg: 1 }).id
    expect(await angle(1, 92, { gauge_id: paint })).toMatchObject({ uncertainty: 4, verdict: 'unsure' })
    expect(await angle(2, 92, { gauge_id: fine })).toMatchObject({ uncertainty: 1, verdict: 'conforms' })
  })

  test('from a gauge that was found outside is of unknown uncertainty, from that day on', async () => {
    const gauge = registerGauge(w.owner, { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: 0.5 }).id
    recordGaugeCheck(w.owner, gauge, { made_on: '2031-03-03', certificate: 'G-77', found: 'outside' })
    expect(await angle(1, 90, { gauge_id: gauge })).toMatchObject({ uncertainty: null, verdict: 'unsure' })
    const before = { gauge_id: gauge, made_at: '2031-03-02T10:00:00.000Z' }
    expect(await angle(2, 90, before)).toMatchObject({ uncertainty: 0.5, verdict: 'conforms' })
  })

  test('names a gauge or a wrench that is in no register', async () => {
    await angle(1, 90, { gauge_id: 'nobody' }, { expect: 422, fields: ['/gauge_id'] })
    await angle(2, 90, { wrench_id: 'nobody' }, { expect: 422, fields: ['/wrench_id'] })
    await record(3, 1, 25, { gauge_id: 'nobody' }, { expect: 422, fields: ['/gauge_id'] })
    const event = { position: 3, stage: 1, event: 'slipped', gauge_id: 'nobody' }
    const post = `/api/joints/${joint}/torque-records`
    await scenario(t, { as: 'technician', post, body: event, expect: 422, fields: ['/gauge_id'] })
    const other = { position: 3, stage: 1, event: 'slipped', wrench_id: 'nobody' }
    await scenario(t, { as: 'technician', post, body: other, expect: 422, fields: ['/wrench_id'] })
  })
})

describe('a torque through an adapter', () => {
  let long: string
  let crowfoot: string
  beforeEach(() => {
    long = registerWrench(w.owner, {
      ...{ name: 'W-30', kind: 'measures', min_nm: 5, max_nm: 50, class: 'II A', length_mm: 400 },
    }).id
    crowfoot = registerAdapter(w.owner, { name: 'Crowfoot 13', length_mm: 100 }).id
  })
  const through = async (value: number, more: object = {}, wanted: object = {}) =>
    (await record(1, 1, value, { wrench_id: long, adapter_id: crowfoot, ...more }, wanted)).body

  test('is kept as the wrench showed it, and judged at the joint', async () => {
    const body = await through(20)
    // TM 9-254, fig. 4-6: T = 20 · (400 + 100)/400 = 25; U is 4 % of 20 by the class (ISO 6789), and grows alike
    expect(body).toMatchObject({ value: 20, unit: 'N.m', adapter_angle_deg: 0, verdict: 'conforms' })
    expect(body.value_si).toBeCloseTo(25, 12)
    expect(body.uncertainty).toBeCloseTo(1, 12)
    expect((await through(26)).verdict).toBe('outside')
  })

  test('agrees with the published setting', async () => {
    interface Quantity {
      value: number
    }
    const row = publishedRow<Record<'T' | 'L' | 'E' | 'theta', Quantity>, { T_set_exact: number }>(
      'adapters',
      'adapter.tm1-1500',
    )
    const { T, L, E } = row.inputs
    const inchMm = 25.4
    const wrench = registerWrench(w.owner, {
      ...{ name: 'W-31', kind: 'clicks', min_nm: 5, max_nm: 50, class: 'II A', length_mm: L.value * inchMm },
    }).id
    const adapter = registerAdapter(w.owner, { name: 'By the book', length_mm: E.value * inchMm }).id
    const body = await through(row.expected.T_set_exact, {
      ...{ unit: 'lbf.in', wrench_id: wrench, adapter_id: adapter },
    })
    // NIST SP 811: 1 lbf·in = 0.112 984 829 N·m
    expect(body.value_si / 0.112_984_829).toBeCloseTo(T.value, 2)
  })

  test('at a right angle changes nothing; reaching back past the hand is refused', async () => {
    const right = await through(25, { adapter_angle_deg: 90 })
    expect(right.value_si).toBeCloseTo(25, 12)
    const far = registerAdapter(w.owner, { name: 'Long bar', length_mm: 600 }).id
    await through(20, { adapter_id: far, adapter_angle_deg: 180 }, { expect: 422, fields: ['/adapter_angle_deg'] })
  })

  test('the usable range is that of the wrench, the limits are those of the joint', async () => {
    const short = registerWrench(w.owner, {
      ...{ name: 'W-32', kind: 'measures', min_nm: 5, max_nm: 22, class: 'II A', length_mm: 400 },
    }).id
    expect((await through(20, { wrench_id: short })).verdict).toBe('conforms')
    expect((await record(2, 1, 25, { wrench_id: short })).body).toMatchObject({ uncertainty: null, verdict: 'unsure' })
  })

  test('needs a wrench whose length is known, and says where it is written down', async () => {
    const { detail } = await through(20, { wrench_id: w.wrench }, { expect: 422, fields: ['/wrench_id'] })
    expect(detail).toContain('Nobody has written down the length of wrench W-11')
    await through(20, { wrench_id: undefined }, { expect: 422, fields: ['/wrench_id'] })
    await through(20, { adapter_id: 'nobody' }, { expect: 422, fields: ['/adapter_id'] })
    await record(1, 1, 20, { adapter_angle_deg: 10 }, { expect: 422, fields: ['/adapter_angle_deg'] })
    await through(20, { adapter_angle_deg: 500 }, { expect: 422, fields: ['/adapter_angle_deg'] })
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    await record(1, 2, 90, { adapter_id: crowfoot }, { expect: 422, fields: ['/adapter_id'] })
  })
})

describe('bad input', () => {
  test.each([
    ['zero', '0'],
    ['negative', '-25'],
    ['a thousand million', '1e9'],
    ['not a number', 'NaN'],
    ['endless', 'Infinity'],
    ['text with its unit', '25 lbf·ft'],
    ['a comma that may be a thousands mark', '1,250'],
  ])('typed into the form: %s is refused beside the field and nothing is recorded', async (_, typed) => {
    const cookie = t.cookie('technician')
    const page = await t.app.inject({ url: `/bench/joints/${joint}`, headers: { cookie } })
    expect(page.statusCode).toBe(200)
    const key = /name="_key" value="([^"]*)"/.exec(page.body)![1]!
    const fields = { _key: key, position: '1', stage: '1', unit: 'N.m', basis: 'measured', wrench_id: w.wrench }
    const reply = await t.app.inject({
      method: 'POST',
      url: `/bench/joints/${joint}`,
      headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
      payload: new URLSearchParams({ ...fields, value: typed }).toString(),
    })
    expect(reply.statusCode, reply.body.slice(0, 300)).toBe(422)
    expect(reply.body).toContain(typed)
    expect(t.system.store.raw.prepare('select count(*) from torque_records').pluck().get()).toBe(0)
  })

  test.each([
    ['24,8', 24.8],
    ['24.8', 24.8],
  ])('typed into the form: %s is %f', async (typed, value) => {
    const cookie = t.cookie('technician')
    const page = await t.app.inject({ url: `/bench/joints/${joint}`, headers: { cookie } })
    const key = /name="_key" value="([^"]*)"/.exec(page.body)![1]!
    const fields = { _key: key, position: '1', stage: '1', unit: 'N.m', basis: 'measured', wrench_id: w.wrench }
    const reply = await t.app.inject({
      method: 'POST',
      url: `/bench/joints/${joint}`,
      headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
      payload: new URLSearchParams({ ...fields, value: typed }).toString(),
    })
    expect(reply.statusCode, reply.body.slice(0, 300)).toBe(303)
    expect(t.system.store.raw.prepare('select value from torque_records').pluck().all()).toEqual([value])
  })

  test('a wrench in no register is kept in words, and conforms nowhere', async () => {
    joint = jointWith(t, w, { severity: 'safety', reuse: 'free' })
    const own = { wrench_id: undefined, wrench_note: 'The neighbour’s long one' }
    expect((await record(1, 1, 25, own)).body).toMatchObject({
      wrench_note: 'The neighbour’s long one',
      verdict: 'unsure',
    })
    expect((await record(2, 1, 25, { ...own, basis: 'set' })).body.verdict).toBe('outside')
    await record(3, 1, 25, { wrench_note: 'Both' }, { expect: 422, fields: ['/wrench_note'] })
    const { body } = await record(3, 1, 25, { wrench_id: 'nobody' }, { expect: 422, fields: ['/wrench_id'] })
    expect(body.detail).toContain('wrench_note')
  })

  test('made in the future, or in another year, is a slip of the pen', async () => {
    await record(1, 1, 25, { made_at: '2031-03-03T08:30:00.000Z' }, { expect: 422, fields: ['/made_at'] })
    await record(1, 1, 25, { made_at: '2030-03-03T07:30:00.000Z' }, { expect: 422, fields: ['/made_at'] })
    // clocks of two machines differ a little, and a day on paper is typed in later
    await record(1, 1, 25, { made_at: '2031-03-03T08:05:00.000Z' })
    await record(2, 1, 25, { made_at: '2031-02-20T08:05:00.000Z' })
  })

  test('the day of the wrench is the day in the shop', async () => {
    patchSettings(w.owner, { time_zone: 'Pacific/Auckland' }, settingsVersion(w.owner))
    const wrench = registerWrench(w.owner, { ...{ name: 'W-40', kind: 'measures', min_nm: 5, max_nm: 50 } }).id
    recordCalibration(w.owner, wrench, {
      ...{ made_on: '2031-03-03', certificate: 'K-9', found: 'good', points: [{ at_nm: 25, uncertainty_nm: 0.5 }] },
    })
    // 20:00 UTC on the 2nd is the 3rd in Auckland
    const made = { wrench_id: wrench, made_at: '2031-03-02T20:00:00.000Z' }
    expect((await record(1, 1, 25, made)).body.verdict).toBe('conforms')
  })
})

test('whatever the wrench shows: what conforms lies inside the limits less the uncertainty, by the record itself', () => {
  const shown = fc.record({
    hundredths: fc.integer({ min: 500, max: 5000 }),
    position: fc.integer({ min: 1, max: 6 }),
  })
  fc.assert(
    fc.property(shown, ({ hundredths, position }) => {
      const { verdict, value_si, lower, upper, uncertainty } = recordTorque(
        w.technician,
        joint,
        reading(w, position, 1, hundredths / 100),
      )
      const [y, low, high, guard] = [value_si!, lower!, upper!, uncertainty!].map(nm => Math.round(nm * 1000))
      const isIn = y! >= low! + guard! && y! <= high! - guard!
      expect(verdict === 'conforms').toBe(isIn)
      if (verdict === 'outside') expect(y! < low! - guard! || y! > high! + guard!).toBe(true)
    }),
    { numRuns: 200, seed: 20310303 },
  )
})

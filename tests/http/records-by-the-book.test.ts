import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { standingOfOrder } from '../../src/hand-back/index.ts'
import { putToolIn } from '../../src/work-orders/index.ts'
import { publishedIds, publishedRow } from '../core/fastening/published.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

/**
 * What rules of aviation maintenance and of trade law ask of a record, held against ours. None of them binds a vehicle
 * workshop as such; they are the best that is written about records that must not be wrong.
 */
const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const get = async (url: string) => (await scenario(t, { as: 'owner', get: `/api/${url}`, expect: 200 })).body
const post = async (url: string, body: object, more: object = {}) =>
  (await scenario(t, { as: 'technician', post: `/api/${url}`, body, expect: 201, ...more })).body
const book = <Expected>(id: string) => publishedRow<object, Expected>('records', id)

/** A safety joint of one stage, tightened by the technician. */
async function tightened(positions = [1, 2]) {
  const joint = jointWith(t, w, {
    ...{ count: 2, severity: 'safety', reuse: 'free', on_failure: 'restart' },
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
  })
  const records = []
  for (const position of positions)
    records.push(await post(`joints/${joint}/torque-records`, reading(w, position, 1, 25)))
  return { joint, records }
}
const sign = (joint: string, body: object, more: object = {}) => post(`joints/${joint}/sign-offs`, body, more)

test('every row of the file that concerns records is looked at here', () => {
  expect(publishedIds('records')).toEqual([
    'vdi2862', // severities: tests/core and procedures
    '14cfr43.9',
    '14cfr121.371',
    'easa145.A.48',
    'easa.reinspection',
    'torque.mark',
    'law.generic.fields',
    'us.49cfr580.5',
    'us.49usc32704',
  ])
})

test('14 CFR 43.9(a): what was done and by which data, when it was complete, who did it, who approved it', async () => {
  const { expected } = book<{ fields: string[] }>('14cfr43.9')
  expect(expected.fields).toHaveLength(4)
  const { joint, records } = await tightened()
  await sign(joint, { as: 'technician' })
  await sign(joint, { as: 'second_person', looked_at: ['marks', 'count', 'stripe'] }, { as: 'owner' })
  const [first, second] = (await get(`joints/${joint}/sign-offs`)).items
  const { name, procedure_revision_id } = await get(`joints/${joint}`)
  const people = new Map((await get('people')).items.map((one: { id: string; name: string }) => [one.id, one.name]))
  // a description, by reference to acceptable data
  expect([name, procedure_revision_id]).toEqual(['Test flange', expect.any(String)])
  // the date of completion is that of the signature; each record has its own
  expect(first.created_at).toBe('2031-03-03T08:00:00.000Z')
  expect(records.map(record => record.made_at)).toEqual(Array(2).fill('2031-03-03T07:00:00.000Z'))
  // who performed the work, and who approves it where that is another; an id of a person with a login is the signature
  expect(people.get(records[0].created_by)).toBe('technician token')
  expect(people.get(second.created_by)).toBe('owner token')
})

test('14 CFR 121.371(c): whoever performed the item of work may not inspect it, whatever the role', async () => {
  expect(book<{ c: string }>('14cfr121.371').expected.c).toContain('performed the item of work')
  const { joint } = await tightened([1])
  await post(`joints/${joint}/torque-records`, reading(w, 2, 1, 25), { as: 'owner' })
  await sign(joint, { as: 'technician' })
  for (const as of ['technician', 'owner'])
    await sign(joint, { as: 'second_person' }, { as, expect: 409, problem: 'same-person' })
  // (a), (d): who may inspect is a list of logins with their roles; the desk is not on it
  await sign(joint, { as: 'second_person' }, { as: 'desk', expect: 403 })
})

describe('EASA 145.A.48', () => {
  test('(a) no release while a tool is in or a panel is off', async () => {
    expect(book<{ a: string }>('easa145.A.48').expected.a).toContain('clear of all tools')
    const job = w.add('boot')
    w.open(job, w.wheel)
    putToolIn(w.technician, job.id, { tool: 'Drain tray' })
    const refused = await post(`work-orders/${w.order}/hand-back`, {}, { as: 'desk', expect: 409 })
    expect(refused.blockers.map((blocker: { reason: string }) => blocker.reason)).toEqual(
      expect.arrayContaining(['tool_in', 'step_open']),
    )
  })

  test('(b) a critical task is looked at by another; the statement is of its task, and no release to service', async () => {
    expect(book<{ sign_off: string }>('easa145.A.48').expected.sign_off).toContain('not the release to service')
    const { joint } = await tightened()
    await sign(joint, { as: 'technician' })
    expect((await get(`joints/${joint}`)).sentence).toContain('waits for a second person')
    await sign(joint, { as: 'second_person' }, { as: 'owner' })
    expect((await get(`joints/${joint}`)).signed).toBe(true)
    expect(standingOfOrder(t.system, w.order).state).not.toBe('handed_back')
    await post(`work-orders/${w.order}/hand-back`, {}, { as: 'desk', expect: 409, problem: 'hand-back-blocked' })
  })

  test('(c) one error is not repeated over identical tasks: what does not conform stops the joint at once', async () => {
    const { joint } = await tightened([1])
    await post(`joints/${joint}/torque-records`, reading(w, 2, 1, 40))
    expect((await get(`joints/${joint}`)).next).toMatchObject({ action: 'restart', position: 2 })
    await sign(joint, { as: 'technician' }, { expect: 409, problem: 'joint-incomplete' })
  })
})

test('AMC4 145.A.48(b)(d): the same person inspects again only where the workshop has so decided, and the record says so before release', async () => {
  expect(book<{ rule: string }>('easa.reinspection').expected.rule).toContain('recorded with identification')
  const { joint } = await tightened()
  await sign(joint, { as: 'technician' })
  await sign(joint, { as: 'second_person' }, { expect: 409, problem: 'same-person' })
  patchSettings(w.owner, { look_again_after_minutes: 60 }, settingsVersion(w.owner))
  t.clock.set(t.clock.now() + 61 * 60_000)
  const looked = await sign(joint, { as: 'second_person', looked_at: ['marks', 'count', 'stripe'] })
  const [first, again] = (await get(`joints/${joint}/sign-offs`)).items
  expect(again).toEqual(looked)
  expect(again).toMatchObject({ created_by: first.created_by, same_person_after_minutes: 61 })
})

test('TP 185 3/2005: the stripe comes after the right torque on each fastener, and is what the second person looks at', async () => {
  expect(book<{ applied: string }>('torque.mark').expected.applied).toBe('after the correct torque value, each fitting')
  const { joint } = await tightened([1])
  const look = { as: 'second_person', looked_at: ['marks', 'count', 'stripe'] }
  await sign(joint, look, { as: 'owner', expect: 409, problem: 'joint-incomplete' })
  await post(`joints/${joint}/torque-records`, reading(w, 2, 1, 25))
  await sign(joint, { as: 'technician' })
  const withoutStripe = { as: 'second_person', looked_at: ['marks', 'count'] }
  await sign(joint, withoutStripe, { as: 'owner', expect: 422, fields: ['/looked_at'] })
  expect((await sign(joint, look, { as: 'owner' })).looked_at).toContain('stripe')
  // moved later: a record of it takes every signature away
  await post(`joints/${joint}/torque-records`, { position: 1, stage: 1, event: 'slipped' })
  expect((await get(`joints/${joint}`)).signed).toBe(false)
})

test('what consumer law asks of a repair, in generic fields', async () => {
  const { expected } = book<{ fields: string[] }>('law.generic.fields')
  const kept = new Map<string, () => Promise<void>>([
    [
      'estimate lines (parts/labour) with version',
      async () => {
        const line = { kind: 'labour', text: 'Hub bearing', quantity: 1.5, unit_minor: 6000, tax_bp: 2000 }
        const made = await post(`work-orders/${w.order}/estimates`, { lines: [line] }, { as: 'desk' })
        expect(made).toMatchObject({ version: 1, lines: [line] })
      },
    ],
    [
      'authorisation events: who, when, how, contact used, amount, scope',
      async () => {
        const yes = { amount_minor: 10_800, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' }
        const made = await post(`work-orders/${w.order}/authorisations`, yes, { as: 'desk' })
        expect(made).toMatchObject({ ...yes, at: expect.any(String), created_by: expect.any(String) })
      },
    ],
    [
      'part condition and origin',
      async () => {
        const job = w.add('boot')
        const part = {
          part_id: w.part,
          quantity: 1,
          condition: 'used',
          cost_minor: 900,
          price_minor: 1700,
          batch: 'B-9',
        }
        expect(await post(`jobs/${job.id}/part-lines`, part)).toMatchObject({ condition: 'used', batch: 'B-9' })
      },
    ],
    [
      'promised time and price basis',
      async () => {
        const stay = {
          vehicle_id: w.vehicle,
          customer_id: w.customer,
          complaint: 'Hums',
          symptoms: [],
          arrived: 'runs',
        }
        const made = await post('work-orders', { ...stay, promised_on: '2031-03-05' }, { as: 'desk' })
        expect(made.promised_on).toBe('2031-03-05')
      },
    ],
    [
      'invoice subtotals and tax',
      async () => {
        const order = w.openOrder()
        w.agree(1_000_000, order)
        const bulb = w.add('bulb', order)
        await post(`jobs/${bulb.id}/completion`, {})
        const { invoice, warranties } = await post(`work-orders/${order}/hand-back`, {}, { as: 'desk' })
        // 0.2 h at 60.00 are 12.00, with 20 % tax 14.40
        expect(invoice).toMatchObject({ net_minor: 1200, gross_minor: 1440, tax: [{ tax_bp: 2000, tax_minor: 240 }] })
        // warranty text, start, length
        expect(warranties).toEqual([{ job_id: bulb.id, until_on: '2032-03-02', until_km: 163_720 }])
      },
    ],
    ['warranty text, start, length', async () => undefined],
  ])
  /** Not kept by this program: the workshop's own papers say it. */
  const elsewhere = [
    'designated authoriser',
    'replaced parts: wish, kind (returnable/core/warranty/hazard), shown, returned, held until',
    'retention period and jurisdiction as settings',
  ]
  expect([...kept.keys(), ...elsewhere].sort()).toEqual(expected.fields.toSorted())
  for (const check of kept.values()) await check()
})

test('49 CFR 580.5(c), (e): the reading without tenths, its day, whose vehicle, and which it is', async () => {
  const { expected } = book<{ fields: string[] }>('us.49cfr580.5')
  expect(expected.fields).toContain('reading, not to include tenths')
  const owner = { name: 'Bodil Farrow', address: 'Quay 4\nQuillhaven' }
  const customer = await post('customers', owner, { as: 'desk' })
  const described = { family: 'Pikko 50', variant: 'open', vin: '1HGBH41JXMN109186', odometer_unit: 'km' }
  const vehicle = await post('vehicles', { ...described, keeper_id: customer.id }, { as: 'desk' })
  expect(vehicle).toMatchObject({ ...described, keeper_id: customer.id })
  expect(await get(`customers/${customer.id}`)).toMatchObject(owner)
  const url = `vehicles/${vehicle.id}/odometer-readings`
  const reading = await post(url, { on: '2031-03-01', distance_km: 18_204 })
  expect(reading).toMatchObject({ on: '2031-03-01', distance_km: 18_204, display_replaced: false, warnings: [] })
  // actual or not actual: one that cannot be is kept, and said to be so
  const { warnings } = await post(url, { on: '2031-03-02', distance_km: 17_950 })
  expect(warnings).toMatchObject([{ field: 'distance_km' }])
})

test('49 U.S.C. 32704: a replaced instrument keeps the old reading, the new one and the day', async () => {
  const { expected } = book<{ record: string[] }>('us.49usc32704')
  expect(expected.record.slice(0, 3)).toEqual(['old reading', 'new reading', 'date'])
  const url = `vehicles/${w.vehicle}/odometer-readings`
  await post(url, { on: '2031-03-01', distance_km: 98_204 })
  const replaced = await post(url, { on: '2031-03-02', distance_km: 0, display_replaced: true })
  expect(replaced).toMatchObject({ distance_km: 0, on: '2031-03-02', display_replaced: true, warnings: [] })
  const kept = (await get(url)).items.map((one: { distance_km: number; on: string }) => [one.on, one.distance_km])
  expect(kept).toEqual(
    expect.arrayContaining([
      ['2031-03-01', 98_204],
      ['2031-03-02', 0],
    ]),
  )
})

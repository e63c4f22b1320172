import { beforeEach, describe, expect, test } from 'vitest'
import { createComponent, createOperation } from '../../src/catalogue/index.ts'
import { leaveForLater, notePriorWork, recordFinding } from '../../src/findings/index.ts'
import { withdrawWrench } from '../../src/tools/index.ts'
import { recordOdometer } from '../../src/vehicles/index.ts'
import { addJob, authoriseAmount, openStep, putToolIn, workOrderById } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

const body = (more: object = {}) => ({
  vehicle_id: w.vehicle,
  customer_id: w.customer,
  complaint: 'It hums.',
  symptoms: ['Hum from the rear'],
  arrived: 'runs',
  ...more,
})
const post = (more: object = {}, wanted: object = {}) =>
  scenario(t, { as: 'desk', post: '/api/work-orders', body: body(more), expect: 201, ...wanted })
const get = async (id: string) =>
  (await scenario(t, { as: 'technician', get: `/api/work-orders/${id}`, expect: 200 })).body
const flags = async (id: string, reason: string) =>
  (await get(id)).flags.filter((flag: { reason: string }) => flag.reason === reason)
const agree = (order: string, amount_minor = 1_000_000) =>
  authoriseAmount(w.desk, order, { amount_minor, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })

describe('POST /api/work-orders', () => {
  test('answers the order with its number, state, totals and where it is', async () => {
    const { body: order, headers } = await post({
      odometer_km: 143_900,
      promised_on: '2031-03-06',
      symptoms: ['A new one'],
    })
    expect(order).toMatchObject({
      number: '2031-0002',
      state: 'taken_in',
      symptoms: ['A new one'],
      odometer_km: 143_900,
      promised_on: '2031-03-06',
      ...{ flags: [], blockers: [], total_minor: 0, agreed_minor: 0 },
    })
    expect(headers.etag).toBe('"1"')
    expect(headers.location).toBe(`/api/work-orders/${order.id}`)
    expect(await get(order.id)).toEqual(order)
  })

  test('refuses by field, by role, without a login and without a key', async () => {
    await post({ complaint: undefined, arrived: 'flown' }, { expect: 422, fields: ['/complaint', '/arrived'] })
    await post({ vehicle_id: 'none' }, { expect: 422, fields: ['/vehicle_id'] })
    await post({ customer_id: 'none' }, { expect: 422, fields: ['/customer_id'] })
    await post({}, { as: 'technician', expect: 403 })
    await post({}, { as: null, expect: 401 })
    await post({}, { key: null, expect: 400 })
    await scenario(t, { as: 'desk', get: '/api/work-orders/none', expect: 404 })
  })
})

describe('PATCH /api/work-orders/{id}', () => {
  const patch = (change: object, ifMatch: string | undefined, wanted: object) =>
    scenario(t, {
      ...{ as: 'desk', patch: `/api/work-orders/${w.order}`, body: change, expect: 200 },
      ...(ifMatch !== undefined && { ifMatch }),
      ...wanted,
    } as Parameters<typeof scenario>[1])

  test('changes what is named and takes out what is null, once', async () => {
    const { body: order, headers } = await patch({ place: 'bay 2', promised_on: '2031-03-06' }, '"1"', {})
    expect([order.place, order.version, headers.etag]).toEqual(['bay 2', 2, '"2"'])
    await patch({ place: 'bay 3' }, '"1"', { expect: 412 })
    await patch({ place: 'bay 3' }, undefined, { expect: 428 })
    expect((await patch({ promised_on: null }, '"2"', {})).body).not.toHaveProperty('promised_on')
    await patch({ vehicle_id: w.vehicle }, '"3"', { expect: 422, fields: ['/vehicle_id'] })
    await patch({ place: 'bay 3' }, '"3"', { as: 'technician', expect: 403 })
    w.finish(w.order)
    await patch({ place: 'bay 3' }, '"3"', { expect: 409, problem: 'work-order-handed-back' })
  })
})

describe('GET /api/work-orders', () => {
  const list = async (query: string) =>
    (await scenario(t, { as: 'technician', get: `/api/work-orders${query}`, expect: 200 })).body
  const ids = (page: { items: { id: string }[] }) => page.items.map(order => order.id)

  test('goes through each state page by page, whatever lies between', async () => {
    const [first, agreed, begun, ready, gone] = [w.order, w.openOrder(), w.openOrder(), w.openOrder(), w.openOrder()]
    const last = w.openOrder()
    for (const order of [agreed, begun, ready]) agree(order)
    openStep(w.technician, addJob(w.desk, begun, { operation_id: w.operations.boot }).id, w.wheel, {})
    w.finish(gone)
    const job = addJob(w.desk, ready, { operation_id: w.operations.bulb })
    await scenario(t, { as: 'technician', post: `/api/jobs/${job.id}/completion`, body: {}, expect: 201 })
    expect(ids(await list('?state=taken_in'))).toEqual([last, first])
    expect(ids(await list('?state=agreed'))).toEqual([agreed])
    expect(ids(await list('?state=in_work'))).toEqual([begun])
    expect(ids(await list('?state=ready'))).toEqual([ready])
    expect(ids(await list('?state=handed_back'))).toEqual([gone])
    const page = await list('?state=taken_in&limit=1')
    expect(ids(page)).toEqual([last])
    const next = await list(`?state=taken_in&limit=1&cursor=${page.next_cursor}`)
    expect([ids(next), next.next_cursor]).toEqual([[first], null])
    expect(ids(await list('?limit=4'))).toEqual([last, gone, ready, begun])
    await scenario(t, { as: 'desk', get: '/api/work-orders?state=lost', expect: 422, fields: ['/state'] })
  })

  test('blockers and totals stand with each order, and are gone once it has left', async () => {
    addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    const [order] = (await list('')).items
    expect(order.blockers.map((blocker: { reason: string }) => blocker.reason)).toEqual([
      ...['look_missing', 'joint_unsigned', 'check_missing', 'no_yes'],
    ])
    expect(order.total_minor).toBe(26_640)
    agree(w.order, 30_000)
    expect(await get(w.order)).toMatchObject({ agreed_minor: 30_000, state: 'agreed' })
    const other = w.openOrder()
    w.finish(other)
    expect(await get(other)).toMatchObject({ state: 'handed_back', flags: [], blockers: [] })
  })
})

describe('flags', () => {
  test('ours come back, with what is still promised; else the warranty that runs', async () => {
    const job = w.finish(w.order)
    const back = w.later(41)
    const [flag] = await flags(back, 'suspected_comeback')
    expect(flag.sentence).toMatch(
      /^Came in 41 days after “Rear lamp bulb: replace” \(work order 2031-0001\); still under warranty to 2 March 2032 or 163\u00a0720\u00a0km, whichever comes first\. The same symptom: Hum from the rear\.$/,
    )
    expect(flag.href).toBe(`/comebacks/${job}/${back}`)
    const other = w.later(1, { symptoms: ['Rattle'] })
    expect(await flags(other, 'suspected_comeback')).toEqual([])
    expect(await flags(other, 'warranty_running')).toMatchObject([
      { sentence: expect.stringContaining('is under warranty to 2 March 2032'), href: `/work-orders/${w.order}` },
    ])
    expect(await flags(w.later(400, { symptoms: ['Rattle'] }), 'warranty_running')).toEqual([])
  })

  test('what was left for later, until a job has done it', async () => {
    leaveForLater(w.desk, { vehicle_id: w.vehicle, text: 'Hub seal: replace', amount_minor: 26_880 })
    expect(await flags(w.openOrder(), 'left_for_later')).toEqual([
      {
        reason: 'left_for_later',
        sentence: 'Left for later on 3 March 2031: hub seal: replace. Priced then at €268.80.',
        href: `/vehicles/${w.vehicle}`,
      },
    ])
  })

  test('a joint in doubt on this vehicle', async () => {
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    w.tighten(job.joints[0]!.id, 1)
    withdrawWrench(w.owner, w.wrench, { at: new Date(t.clock.now()).toISOString(), reason: 'dropped' })
    expect(await flags(w.order, 'joint_in_doubt')).toMatchObject([
      {
        // fit for the customer's ears: no name of a tool, nothing of how it came about
        sentence:
          'The torque wrench that tightened the drive flange (work order 2031-0001) should have been checked before it was used. It is in doubt until somebody has looked at it.',
        href: `/bench/joints/${job.joints[0]!.id}`,
      },
    ])
  })

  test('a tool of another stay', async () => {
    const job = addJob(w.desk, w.order, { operation_id: w.operations.boot })
    putToolIn(w.technician, job.id, { tool: 'Plug' })
    expect(await flags(w.order, 'tool_still_in')).toEqual([])
    expect(await flags(w.openOrder(), 'tool_still_in')).toMatchObject([
      {
        sentence: expect.stringContaining('“Plug” was put in on work order 2031-0001'),
        href: `/work-orders/${w.order}`,
      },
    ])
  })

  test('others’ work at what can cause the symptom, by the catalogue and by a finding; not our own', async () => {
    const work = { operation: 'Rear hub: look', by: 'other', exactness: 'unknown', evidence: 'Owner says' } as const
    createComponent(w.owner, {
      ...{ name: 'Rear hub', severity: 'safety', causes: ['Hum from the rear'], check_minutes: 5 },
      access_step_ids: [],
    })
    createOperation(w.owner, {
      ...{ name: work.operation, hours: 1, access_step_ids: [], joints: [], final_checks: [] },
      looks: [{ component: 'Rear hub', severity: 'safety', minutes: 5 }],
    })
    notePriorWork(w.desk, w.vehicle, work)
    notePriorWork(w.desk, w.vehicle, { ...work, by: 'us' })
    expect(await flags(w.order, 'others_work')).toEqual([
      {
        reason: 'others_work',
        sentence:
          '“Rear hub: look” was done by another workshop at a time that nobody knows. That is work at the rear hub, which can cause: Hum from the rear. Evidence: owner says.',
        href: `/vehicles/${w.vehicle}`,
      },
    ])
    const rattle = w.openOrder({ symptoms: ['Rattle'] })
    expect(await flags(rattle, 'others_work')).toEqual([])
    recordFinding(w.technician, {
      ...{
        vehicle_id: w.vehicle,
        component: 'Rear hub',
        severity: 'safety',
        found_on: '2031-03-01',
        symptom: 'Rattle',
      },
    })
    expect(await flags(rattle, 'others_work')).toHaveLength(1)
  })

  test('an odometer lower than before', async () => {
    recordOdometer(w.desk, w.vehicle, { on: '2031-02-01', distance_km: 150_000 })
    const order = w.openOrder({ odometer_km: 149_000 })
    const [flag] = await flags(order, 'odometer')
    expect(flag.sentence).toContain('149\u00a0000\u00a0km is lower than the 150\u00a0000\u00a0km of 1 February 2031')
    expect(await flags(w.openOrder({ odometer_km: 150_001 }), 'odometer')).toEqual([])
  })
})

describe('GET /api/find', () => {
  const find = async (q: string) =>
    (await scenario(t, { as: 'technician', get: `/api/find?${new URLSearchParams({ q })}`, expect: 200 })).body

  test('finds by plate, name and order number, each thing once', async () => {
    const { number } = workOrderById(t.system, w.order)
    for (const q of ['qh418tk', 'farrow', number, '1']) {
      const found = await find(q)
      expect(
        found.work_orders.map((order: { id: string }) => order.id),
        q,
      ).toEqual([w.order])
      expect([found.vehicles, found.customers], q).toEqual([[], []])
    }
    w.finish(w.order)
    expect((await find(number)).work_orders).toMatchObject([{ state: 'handed_back' }])
    expect((await find('qh 418')).vehicles).toMatchObject([{ id: w.vehicle }])
    expect((await find('farrow')).customers).toMatchObject([{ id: w.customer }])
    expect(await find('no such thing')).toEqual({ work_orders: [], vehicles: [], customers: [] })
    await scenario(t, { as: 'desk', get: '/api/find', expect: 422, fields: ['/q'] })
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addProcedureRevision, updateAccessStep, updateOperation } from '../../src/catalogue/index.ts'
import { closeStep, standingOfOrder } from '../../src/hand-back/index.ts'
import { odometerReadings } from '../../src/vehicles/index.ts'
import { chargesOfOrder, openStep, ordersInHouse, updateWorkOrder, workOrderById } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const post = (url: string, body: object, more: object = {}) =>
  scenario(t, { as: 'owner', post: `/api${url}`, body, expect: 201, ...more })
const get = (url: string, more: object = {}) => scenario(t, { as: 'desk', get: `/api${url}`, expect: 200, ...more })
const addJob = async (operation: keyof OrderWorld['operations'], order = w.order) =>
  (await post(`/work-orders/${order}/jobs`, { operation_id: w.operations[operation] })).body

describe('openWorkOrder', () => {
  test('gives numbers without a gap in a year, makes symptoms, and records the odometer on the day', () => {
    const first = workOrderById(t.system, w.order)
    const second = workOrderById(t.system, w.openOrder({ symptoms: ['hum from the rear', 'Smell of oil'] }))
    expect([first.number, second.number]).toEqual(['2031-0001', '2031-0002'])
    expect(second.symptoms).toEqual(['Hum from the rear', 'Smell of oil'])
    expect(ordersInHouse(t.system).map(order => order.id)).toEqual([first.id, second.id])
    expect(odometerReadings(t.system, w.vehicle).map(({ on, distance_km }) => ({ on, distance_km }))).toEqual([
      { on: '2031-03-03', distance_km: 143_720 },
      { on: '2031-03-03', distance_km: 143_720 },
    ])
  })

  test('a refused one gives its number back', () => {
    expect(() => w.openOrder({ customer_id: 'nobody' })).toThrow(/There is no customer/)
    expect(() => w.openOrder({ vehicle_id: 'nothing' })).toThrow(/There is no vehicle/)
    expect(workOrderById(t.system, w.openOrder()).number).toBe('2031-0002')
  })

  test('an edit merges, keeps the version, and records another reading', () => {
    const { version } = workOrderById(t.system, w.order)
    const edited = updateWorkOrder(w.desk, w.order, version, { place: 'bay 2', odometer_km: 143_725 })
    expect(edited).toMatchObject({
      place: 'bay 2',
      odometer_km: 143_725,
      version: 2,
      complaint: 'It hums from the back above forty.',
    })
    expect(odometerReadings(t.system, w.vehicle)).toHaveLength(2)
    expect(() => updateWorkOrder(w.desk, w.order, version, { place: 'bay 3' })).toThrow(/stale-edit/)
  })
})

describe('POST /api/work-orders/{id}/jobs', () => {
  test('pins name, hours, warranty, all steps needed, and the newest revision', async () => {
    const reply = await post(
      `/work-orders/${w.order}/jobs`,
      { operation_id: w.operations.bearing },
      { as: 'technician' },
    )
    expect(reply.headers.location).toBe(`/api/jobs/${reply.body.id}`)
    expect(reply.body).toMatchObject({
      letter: 'A',
      task: 'Rear wheel bearing: replace',
      hours: 1,
      warranty_days: 730,
      warranty_km: 40_000,
    })
    expect(reply.body.steps.map((step: { access_step_id: string }) => step.access_step_id)).toEqual([
      w.wheel,
      w.carrier,
      w.shaft,
      w.hub,
    ])
    expect(reply.body.joints).toMatchObject([{ name: 'Drive flange', revision: 1, behind_step_id: w.shaft }])
    expect(reply.body.looks).toMatchObject([
      { component: 'Brake hose', severity: 'safety', behind_step_id: w.carrier, minutes: 5 },
    ])
    expect(reply.body.final_checks).toMatchObject([{ text: 'Road test above forty' }])
    expect((await get(`/jobs/${reply.body.id}`)).body).toEqual(reply.body)
  })

  test('a catalogue that changes later changes no job', async () => {
    const job = await addJob('bearing')
    addProcedureRevision(w.owner, w.procedure, {
      layout: 'circle',
      count: 3,
      stages: [{ kind: 'torque', target: 30 }],
      reuse: 'never',
      severity: 'safety',
      on_failure: 'replace',
      source: "Invented maker's manual, 2nd edition, page 14",
    })
    updateOperation(w.owner, w.operations.bearing, 1, { name: 'Bearing', hours: 2, looks: [] })
    updateAccessStep(w.owner, w.wheel, 1, { hours: 9 })
    expect((await get(`/jobs/${job.id}`)).body).toEqual(job)
    expect(await addJob('bearing')).toMatchObject({ task: 'Bearing', hours: 2, joints: [{ revision: 2 }], looks: [] })
  })

  test('a task of one’s own has its hours, no plan, and the workshop’s warranty', async () => {
    await addJob('boot')
    const { body } = await post(`/work-orders/${w.order}/jobs`, { task: 'Look for the rattle', hours: 0.25 })
    expect(body).toMatchObject({
      letter: 'B',
      task: 'Look for the rattle',
      hours: 0.25,
      warranty_days: 365,
      warranty_km: 20_000,
      steps: [],
    })
    expect((await get(`/work-orders/${w.order}/jobs?limit=1`)).body.items).toMatchObject([{ letter: 'A' }])
    const { next_cursor } = (await get(`/work-orders/${w.order}/jobs?limit=1`)).body
    expect((await get(`/work-orders/${w.order}/jobs?limit=1&cursor=${next_cursor}`)).body).toMatchObject({
      items: [{ letter: 'B' }],
      next_cursor: null,
    })
  })

  test.each([
    [{}, ['/task']],
    [{ task: 'Rattle' }, ['/hours']],
    [{ task: 'Rattle', hours: -1 }, ['/hours']],
    [{ operation_id: 'no such' }, ['/operation_id']],
    [{ operation_id: 'any', task: 'and this' }, ['/task']],
    [{ task: 'Rattle', hours: 1, settles_finding_id: 'no such' }, ['/settles_finding_id']],
    [{ task: 'Rattle', hours: 1, price: 3 }, ['/price']],
  ])('refuses %j at %j', async (body, fields) => {
    await post(`/work-orders/${w.order}/jobs`, body, { expect: 422, problem: 'invalid-input', fields })
  })

  test('refuses an unknown order, and nobody in particular', async () => {
    await post('/work-orders/none/jobs', { task: 'Rattle', hours: 1 }, { expect: 404 })
    await post(`/work-orders/${w.order}/jobs`, { task: 'Rattle', hours: 1 }, { as: null, expect: 401 })
  })
})

describe('openings of a step', () => {
  const opening = (job: { id: string }, step: string, more: object = {}, body: object = {}) =>
    post(`/jobs/${job.id}/steps/${step}/openings`, body, { as: 'technician', ...more })

  test('outer steps come first; the answer names them', async () => {
    const job = await addJob('boot')
    const refused = await opening(job, w.shaft, { expect: 409, problem: 'step-not-reachable' })
    expect(refused.body.steps).toEqual([{ access_step_id: w.carrier, name: 'Brake carrier aside' }])
    await opening(job, w.wheel)
    const { body, headers } = await opening(job, job.steps[1].id, {}, { at: '2031-03-03T08:30:00Z' })
    expect(body).toMatchObject({ access_step_id: w.carrier, step_id: job.steps[1].id, at: '2031-03-03T08:30:00.000Z' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
  })

  test('all jobs share a step: opened by one, open for all; opened again only after a closing', async () => {
    const [boot, bearing] = [await addJob('boot'), await addJob('bearing')]
    await opening(boot, w.wheel)
    await opening(bearing, w.wheel, { expect: 409, problem: 'step-open' })
    await opening(bearing, w.carrier)
    expect((await get(`/jobs/${boot.id}`)).body.steps.map((step: { is_open: boolean }) => step.is_open)).toEqual([
      true,
      true,
      false,
    ])
    expect((await get(`/jobs/${bearing.id}/steps/${w.wheel}/openings`)).body.items).toMatchObject([{ job_id: boot.id }])
  })

  test('opened again it counts again, unless we bear it', async () => {
    const job = await addJob('boot')
    const total = () => chargesOfOrder(t.system, w.order).total_minor
    // 0.6 + 0.3 + 0.4 + 0.9 hours at 60.00 and a fifth: 158.40
    expect(total()).toBe(15_840)
    await opening(job, w.wheel, { expect: 422, fields: ['/borne_by'] }, { borne_by: 'us' })
    for (const borne of [undefined, 'us', 'customer']) {
      await opening(job, w.wheel, {}, borne === undefined ? {} : { reason: 'A screw was left out', borne_by: borne })
      closeStep(w.technician, job.id, w.wheel, {})
    }
    // once more 0.3 hours: 21.60 with tax
    expect(total()).toBe(18_000)
  })

  test('cannot be earlier than the last closing; the desk opens nothing', async () => {
    const job = await addJob('boot')
    openStep(w.technician, job.id, w.wheel, { at: '2031-03-03T08:00:00Z' })
    closeStep(w.technician, job.id, w.wheel, { at: '2031-03-03T09:00:00Z' })
    await opening(job, w.wheel, { expect: 422, fields: ['/at'] }, { at: '2031-03-03T08:59:59Z' })
    await opening(job, w.wheel, { as: 'desk', expect: 403, problem: 'role-not-allowed' })
    await opening(job, 'nothing', { expect: 404 })
    await opening({ id: 'nothing' }, w.wheel, { expect: 404 })
  })
})

test('the state goes from taken in over agreed to in work', async () => {
  const state = () => standingOfOrder(t.system, w.order).state
  expect(state()).toBe('taken_in')
  const job = await addJob('boot')
  await post(`/work-orders/${w.order}/authorisations`, {
    amount_minor: 20_000,
    includes_tax: true,
    said_by: 'Bodil Farrow',
    how: 'signed',
  })
  expect(state()).toBe('agreed')
  openStep(w.technician, job.id, w.wheel, {})
  expect(state()).toBe('in_work')
})

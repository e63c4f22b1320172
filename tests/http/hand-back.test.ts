import { beforeEach, describe, expect, test } from 'vitest'
import { signOffJoint } from '../../src/fastening/index.ts'
import { handBack, standingOfOrder, voidJobSafely } from '../../src/hand-back/index.ts'
import { odometerReadings } from '../../src/vehicles/index.ts'
import {
  addJob,
  authoriseAmount,
  chargesOfOrder,
  completeJob,
  type Job,
  putToolIn,
  takeToolOut,
} from '../../src/work-orders/index.ts'
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

const postHandBack = (body: object = {}, more: object = {}) =>
  scenario(t, { as: 'desk', post: `/api/work-orders/${w.order}/hand-back`, body, expect: 201, ...more })
const blocked = async (body: object = {}): Promise<string[]> => {
  const reply = await postHandBack(body, { expect: 409, problem: 'hand-back-blocked' })
  return reply.body.blockers.map((blocker: { reason: string }) => blocker.reason)
}

describe('POST /api/work-orders/{id}/hand-back', () => {
  const finish = (job: Job) => {
    w.finishJoint(job.joints[0]!.id)
    w.lookFine(job.looks[0]!.id)
    w.checkFine(job.final_checks[0]!.id)
  }

  test('names everything that is missing', async () => {
    const job = w.add('bearing')
    w.open(job, w.wheel)
    putToolIn(w.technician, job.id, { tool: 'Drain tray' })
    expect(await blocked()).toEqual([
      'tool_in',
      'step_open',
      'look_missing',
      'joint_unsigned',
      'check_missing',
      'no_yes',
    ])
  })

  test.each([
    ['tool_in', (job: Job) => void putToolIn(w.technician, job.id, { tool: 'Drain tray' })],
    ['step_open', (job: Job) => w.open(job, w.wheel)],
    ['look_missing', () => void w.add('bearing')],
    ['joint_unsigned', (job: Job) => w.tighten(job.joints[0]!.id, 1)],
    ['check_failed', (job: Job) => void w.checkFine(job.final_checks[0]!.id, false)],
    ['above_agreed', () => void addJob(w.desk, w.order, { task: 'Rattle', hours: 10 })],
  ])('is refused for %s alone or among others', async (reason, spoil) => {
    const job = w.add('bearing')
    finish(job)
    w.agree(30_000)
    spoil(job)
    expect(await blocked()).toContain(reason)
    expect(standingOfOrder(t.system, w.order).state).not.toBe('ready')
  })

  test('a tool of a voided job still blocks', async () => {
    const job = w.add('bearing')
    const tool = putToolIn(w.technician, job.id, { tool: 'Drain tray' })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    expect(await blocked()).toEqual(['tool_in'])
    takeToolOut(w.technician, tool.id, {})
    await postHandBack()
  })

  test('a joint of a voided job that somebody begins afterwards blocks until it is tight and signed', async () => {
    const job = w.add('bearing')
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    const joint = job.joints[0]!.id
    w.tighten(joint, 1)
    expect(await blocked()).toEqual(['joint_unsigned'])
    w.tighten(joint, 2)
    signOffJoint(w.technician, joint, { as: 'technician' })
    await postHandBack()
  })

  test('a check that failed is done again: the newest result counts', async () => {
    const job = w.add('bearing')
    finish(job)
    w.agree(30_000)
    w.checkFine(job.final_checks[0]!.id, false)
    expect(await blocked()).toEqual(['check_failed'])
    w.checkFine(job.final_checks[0]!.id)
    await postHandBack()
  })

  test('makes the invoice, the warranties and the reading', async () => {
    const [bearing, boot] = [w.add('bearing'), w.add('boot')]
    w.open(bearing, w.wheel, w.carrier, w.shaft, w.hub)
    finish(bearing)
    w.close(bearing, w.hub, w.shaft, w.carrier, w.wheel)
    w.agree(30_960)
    expect(standingOfOrder(t.system, w.order)).toMatchObject({ state: 'ready', blockers: [] })
    const { body, headers } = await postHandBack({ odometer_km: 143_731 })
    // 1 + 0.6 + 2.7 hours at 60.00 and a fifth
    expect(body.invoice).toMatchObject({
      number: '2031-0001',
      discount_minor: 0,
      net_minor: 25_800,
      tax: [{ tax_bp: 2000, net_minor: 25_800, tax_minor: 5160 }],
      gross_minor: 30_960,
    })
    expect(body.invoice.lines.map((line: { line_minor: number }) => line.line_minor)).toEqual([6000, 3600, 16_200])
    expect(body).toMatchObject({
      on: '2031-03-03',
      odometer_km: 143_731,
      warranties: [
        { job_id: bearing.id, until_on: '2033-03-02', until_km: 183_731 },
        { job_id: boot.id, until_on: '2032-03-02', until_km: 163_731 },
      ],
    })
    expect(headers.location).toBe(`/api/work-orders/${w.order}/hand-back`)
    expect((await scenario(t, { as: 'technician', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect(odometerReadings(t.system, w.vehicle).map(reading => reading.distance_km)).toEqual([143_720, 143_731])
    expect(standingOfOrder(t.system, w.order)).toMatchObject({ state: 'handed_back', blockers: [] })
  })

  test('what we bear comes off what is to pay, with its reason', async () => {
    const job = w.add('bulb')
    completeJob(w.technician, job.id, {})
    w.agree(1000)
    // 0.2 hours at 60.00 and a fifth: 14.40
    expect(await blocked()).toEqual(['above_agreed'])
    await postHandBack({ borne_minor: 440 }, { expect: 422, fields: ['/borne_reason'] })
    await postHandBack({ borne_minor: 1441, borne_reason: 'Ours' }, { expect: 422, fields: ['/borne_minor'] })
    expect(await blocked({ borne_minor: 439, borne_reason: 'Ours' })).toEqual(['above_agreed'])
    const { body } = await postHandBack({ borne_minor: 440, borne_reason: 'The lamp was ours' })
    expect(body).toMatchObject({ borne_minor: 440, borne_reason: 'The lamp was ours' })
    // 1000/1.2 = 833.3…
    expect(body.invoice).toMatchObject({ gross_minor: 1000, net_minor: 833, tax: [{ tax_minor: 167 }] })
    expect(chargesOfOrder(t.system, w.order)).toMatchObject({ total_minor: 1440, gross_minor: 1000 })
  })

  test('nothing to pay needs no yes; when we bear all of it neither', async () => {
    w.add('bulb')
    const { body } = await postHandBack({ borne_minor: 1440, borne_reason: 'A comeback of ours' })
    expect(body.invoice).toMatchObject({ gross_minor: 0, net_minor: 0 })
  })

  test('invoice numbers have no gap, whatever was refused between', async () => {
    const orders = [w.order, w.openOrder(), w.openOrder()]
    const numbers: string[] = []
    for (const order of orders) {
      w.add('bulb', order)
      expect(() => handBack(w.desk, order, {})).toThrow(/hand-back-blocked/)
      w.agree(1440, order)
      numbers.push(handBack(w.desk, order, {}).invoice.number)
    }
    expect(numbers).toEqual(['2031-0001', '2031-0002', '2031-0003'])
    t.clock.set(Date.UTC(2032, 0, 1, 9))
    const next = w.openOrder()
    expect(handBack(w.desk, next, {}).invoice.number).toBe('2032-0001')
  })

  test('closes the order for change', async () => {
    const job = w.add('bulb')
    w.agree(1440)
    await scenario(t, { as: 'desk', get: `/api/work-orders/${w.order}/hand-back`, expect: 404 })
    await postHandBack({}, { as: 'technician', expect: 403 })
    await postHandBack()
    const refused = (url: string, body: object) =>
      scenario(t, { as: 'owner', post: `/api${url}`, body, expect: 409, problem: 'work-order-handed-back' })
    await refused(`/work-orders/${w.order}/hand-back`, {})
    await refused(`/work-orders/${w.order}/jobs`, { task: 'Rattle', hours: 1 })
    await refused(`/work-orders/${w.order}/estimates`, {
      lines: [{ kind: 'other', text: 'x', quantity: 1, unit_minor: 1, tax_bp: 0 }],
    })
    await refused(`/work-orders/${w.order}/authorisations`, {
      amount_minor: 1,
      includes_tax: true,
      said_by: 'x',
      how: 'phone',
    })
    await refused(`/jobs/${job.id}/voiding`, { reason: 'Too late' })
    await refused(`/jobs/${job.id}/tools-in`, { tool: 'Plug' })
    await refused(`/jobs/${job.id}/completion`, {})
    await refused(`/jobs/${job.id}/part-lines`, {
      part_id: w.part,
      quantity: 1,
      condition: 'new',
      cost_minor: 1,
      price_minor: 1,
    })
    // what is said about it later is still written down
    await scenario(t, {
      as: 'desk',
      post: `/api/work-orders/${w.order}/talks`,
      body: { with: 'Bodil Farrow', how: 'telephone', said: 'It is quiet now.' },
      expect: 201,
    })
  })

  test('sent twice with one key it is done once', async () => {
    w.add('bulb')
    w.agree(1440)
    const first = await postHandBack({}, { key: 'tap' })
    const again = await postHandBack({}, { key: 'tap', events: 0 })
    expect(again.body).toEqual(first.body)
  })
})

describe('a job that nobody called done', () => {
  const order = async () => (await scenario(t, { as: 'desk', get: `/api/work-orders/${w.order}`, expect: 200 })).body
  const task = async () => {
    const body = { task: 'Rattle found', hours: 0.5 }
    return (await scenario(t, { as: 'desk', post: `/api/work-orders/${w.order}/jobs`, body, expect: 201 })).body.id
  }
  const question = (id: string) => ({
    reason: 'job_not_said_done',
    sentence: 'Nobody has said that job A, rattle found, is done. Was it?',
    href: `/bench/jobs/${id}`,
  })

  test('stands in to_ask before, and still after it has left, on the hand-back', async () => {
    const id = await task()
    w.agree(100_000)
    expect(await order()).toMatchObject({ state: 'agreed', blockers: [], to_ask: [question(id)] })
    const { body } = await postHandBack()
    expect(body.to_ask).toEqual([question(id)])
    const read = await scenario(t, { as: 'desk', get: `/api/work-orders/${w.order}/hand-back`, expect: 200 })
    expect(read.body.to_ask).toEqual([question(id)])
    expect((await order()).to_ask).toEqual([])
  })

  test('is ready, and nothing is asked, once somebody has said so', async () => {
    const id = await task()
    w.agree(100_000)
    await scenario(t, { as: 'technician', post: `/api/jobs/${id}/completion`, body: {}, expect: 201 })
    expect(await order()).toMatchObject({ state: 'ready', blockers: [], to_ask: [] })
    expect((await postHandBack()).body.to_ask).toEqual([])
  })

  test('is not asked about while it was voided, has a plan of its own or an open step, which block by themselves', async () => {
    const boot = w.add('boot')
    w.open(boot, w.wheel)
    voidJobSafely(w.desk, await task(), { reason: 'Not wanted' })
    expect((await order()).to_ask).toEqual([])
    w.close(boot, w.wheel)
    w.add('bearing')
    expect((await order()).to_ask).toMatchObject([
      { sentence: 'Nobody has said that job A, axle shaft boot: replace, is done. Was it?' },
    ])
  })

  test('an order without any job is asked about', async () => {
    expect((await order()).to_ask).toMatchObject([{ reason: 'no_job', href: `/work-orders/${w.order}` }])
  })
})

test('a vehicle cannot leave with fewer kilometres than it came with', async () => {
  const bulb = addJob(w.desk, w.order, { operation_id: w.operations.bulb })
  completeJob(w.technician, bulb.id, {})
  authoriseAmount(w.desk, w.order, { amount_minor: 100_000, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })
  const post = `/api/work-orders/${w.order}/hand-back`
  await scenario(t, { as: 'desk', post, body: { odometer_km: 14_372 }, expect: 422, fields: ['/odometer_km'] })
  await scenario(t, { as: 'desk', post, body: { odometer_km: 143_720 }, expect: 201 })
})

test('a yes in the future is refused', async () => {
  const body = {
    amount_minor: 1,
    includes_tax: true,
    said_by: 'Bodil Farrow',
    how: 'phone',
    at: '2031-03-04T08:00:00.000Z',
  }
  const post = `/api/work-orders/${w.order}/authorisations`
  await scenario(t, { as: 'desk', post, body, expect: 422, fields: ['/at'] })
})

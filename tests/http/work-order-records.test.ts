import { beforeEach, describe, expect, test } from 'vitest'
import { closeStep, standingOfOrder } from '../../src/hand-back/index.ts'
import { chargesOfOrder, openStep } from '../../src/work-orders/index.ts'
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

describe('tools in the vehicle', () => {
  test('go in before a step of any job, come out once, also from a voided job', async () => {
    const [boot, bearing] = [await addJob('boot'), await addJob('bearing')]
    const { body: tool } = await post(`/jobs/${boot.id}/tools-in`, {
      tool: 'Holding plate no. 3',
      before_step_id: w.hub,
    })
    const hub = bearing.steps.find((step: { access_step_id: string }) => step.access_step_id === w.hub)
    expect(tool).toMatchObject({ tool: 'Holding plate no. 3', before_step_id: hub.id })
    const [own, other] = [boot.steps.at(-1).id, hub.id]
    for (const before_step_id of [own, other]) {
      const { body: plug } = await post(`/jobs/${boot.id}/tools-in`, { tool: 'Plug', before_step_id })
      expect(plug.before_step_id).toBe(before_step_id)
      expect((await get(`/tools-in/${plug.id}`)).body).toEqual(plug)
      expect((await get(`/jobs/${boot.id}`)).body.tools_in).toContainEqual(plug)
    }
    await post(`/jobs/${boot.id}/voiding`, { reason: 'Not wanted' }, { as: 'desk' })
    const { body } = await post(`/tools-in/${tool.id}/removal`, {}, { as: 'technician' })
    expect((await get(`/tools-in/${tool.id}/removal`)).body).toEqual(body)
    expect((await get(`/tools-in/${tool.id}`)).body.removed_at).toBe(body.at)
    await post(`/tools-in/${tool.id}/removal`, {}, { expect: 409, problem: 'tool-out' })
  })

  test('not behind a step that is closed again, nor behind one that needs it', async () => {
    const job = await addJob('boot')
    openStep(w.technician, job.id, w.wheel, {})
    await post(
      `/jobs/${job.id}/tools-in`,
      { tool: 'Plug', before_step_id: 'no such' },
      { expect: 422, fields: ['/before_step_id'] },
    )
    closeStep(w.technician, job.id, w.wheel, {})
    for (const before_step_id of [w.wheel, w.shaft]) {
      await post(
        `/jobs/${job.id}/tools-in`,
        { tool: 'Plug', before_step_id },
        { expect: 409, problem: 'step-not-open' },
      )
    }
    const { body } = await post(`/jobs/${job.id}/tools-in`, { tool: 'Plug', at: '2031-03-03T10:00:00Z' })
    await post(`/tools-in/${body.id}/removal`, { at: '2031-03-03T09:00:00Z' }, { expect: 422, fields: ['/at'] })
    await get(`/tools-in/${body.id}/removal`, { expect: 404 })
  })
})

describe('part lines', () => {
  const line = { quantity: 2, condition: 'new', cost_minor: 3000, price_minor: 4650 }

  test('are charged by the book', async () => {
    const job = await addJob('bulb')
    const { body } = await post(`/jobs/${job.id}/part-lines`, { ...line, part_id: w.part, batch: '31-07' })
    expect(body).toMatchObject({ part_number: 'HB-204', part_name: 'Hub bearing', batch: '31-07', quantity: 2 })
    // 0.2 · 60.00 + 2 · 46.50 = 105.00, a fifth of it 21.00
    expect(chargesOfOrder(t.system, w.order)).toMatchObject({
      net_minor: 10_500,
      total_minor: 12_600,
      agreed_minor: 0,
      has_yes: false,
    })
    expect((await get(`/jobs/${job.id}/part-lines`)).body.items).toEqual([body])
  })

  test('name known parts, suppliers and joints of the job', async () => {
    const [bulb, bearing] = [await addJob('bulb'), await addJob('bearing')]
    const refused = (more: object, field: string) =>
      post(`/jobs/${bulb.id}/part-lines`, { ...line, part_id: w.part, ...more }, { expect: 422, fields: [field] })
    await refused({ part_id: 'no such' }, '/part_id')
    await refused({ supplier_id: 'no such' }, '/supplier_id')
    await refused({ joint_id: bearing.joints[0].id }, '/joint_id')
    await refused({ quantity: 0 }, '/quantity')
    await refused({ price_minor: 10.5 }, '/price_minor')
    await post(`/jobs/${bearing.id}/part-lines`, { ...line, part_id: w.part, joint_id: bearing.joints[0].id })
  })
})

describe('voiding and completion', () => {
  test('a voided job takes no new work', async () => {
    const job = await addJob('boot')
    await post(`/jobs/${job.id}/voiding`, { reason: 'Not wanted' }, { as: 'technician', expect: 403 })
    const { body } = await post(`/jobs/${job.id}/voiding`, { reason: 'Not wanted' }, { as: 'desk' })
    expect((await get(`/jobs/${job.id}/voiding`)).body).toEqual(body)
    const refused = { expect: 409, problem: 'job-voided' }
    await post(`/jobs/${job.id}/voiding`, { reason: 'Again' }, refused)
    await post(`/jobs/${job.id}/steps/${w.wheel}/openings`, {}, refused)
    await post(`/jobs/${job.id}/tools-in`, { tool: 'Plug' }, refused)
    await post(`/jobs/${job.id}/completion`, {}, refused)
    await post(
      `/jobs/${job.id}/part-lines`,
      { part_id: w.part, quantity: 1, condition: 'new', cost_minor: 0, price_minor: 0 },
      refused,
    )
    expect(chargesOfOrder(t.system, w.order).total_minor).toBe(0)
    // its letter is not given out again
    expect((await addJob('bulb')).letter).toBe('B')
  })

  test('a job without a plan is done when somebody says so, once', async () => {
    const [bulb, bearing] = [await addJob('bulb'), await addJob('bearing')]
    await get(`/jobs/${bulb.id}/completion`, { expect: 404 })
    const { body } = await post(`/jobs/${bulb.id}/completion`, {}, { as: 'technician' })
    expect((await get(`/jobs/${bulb.id}`)).body.completed_at).toBe(body.at)
    await post(`/jobs/${bulb.id}/completion`, {}, { expect: 409, problem: 'job-done' })
    await post(`/jobs/${bearing.id}/completion`, {}, { expect: 409, problem: 'job-has-plan' })
    expect([...standingOfOrder(t.system, w.order).done_job_ids]).toEqual([bulb.id])
  })
})

describe('what is agreed', () => {
  const labour = { kind: 'labour', text: 'As talked over', quantity: 1, unit_minor: 9900, tax_bp: 2000 }

  test('talks are kept, oldest first', async () => {
    const { body } = await post(
      `/work-orders/${w.order}/talks`,
      { with: 'Bodil Farrow', how: 'telephone', said: 'Not to be driven.', promised: 'a price by 13:30' },
      { as: 'technician' },
    )
    expect(body).not.toHaveProperty('salt')
    expect((await get(`/work-orders/${w.order}/talks`)).body.items).toEqual([body])
    expect((await get(`/work-orders/${w.order}/talks/${body.id}`)).body).toEqual(body)
  })

  test('an estimate has totals per rate, and each version its number', async () => {
    const job = await addJob('boot')
    const lines = [
      { ...labour, job_id: job.id, quantity: 1.5, unit_minor: 3333 },
      { ...labour, kind: 'part', part_id: w.part, tax_bp: 700 },
    ]
    const { body } = await post(`/work-orders/${w.order}/estimates`, { lines }, { as: 'desk' })
    // 4999.5 becomes 5000, its fifth is 1000; 9900 · 7/100 = 693
    expect(body).toMatchObject({
      version: 1,
      lines: [{ line_minor: 5000 }, { line_minor: 9900 }],
      tax: [
        { tax_bp: 700, net_minor: 9900, tax_minor: 693 },
        { tax_bp: 2000, net_minor: 5000, tax_minor: 1000 },
      ],
      net_minor: 14_900,
      gross_minor: 16_593,
    })
    const second = await post(`/work-orders/${w.order}/estimates`, { lines: [labour], discount_minor: 900 })
    expect(second.body).toMatchObject({ version: 2, discount_minor: 900, net_minor: 9000, gross_minor: 10_800 })
    expect(
      (await get(`/work-orders/${w.order}/estimates`)).body.items.map((each: { version: number }) => each.version),
    ).toEqual([1, 2])
    expect(chargesOfOrder(t.system, w.order).total_minor).toBe(10_800)
  })

  test('an estimate is refused for what is not of this order', async () => {
    const stranger = await addJob('boot', w.openOrder())
    const refused = (body: object, fields: string[]) =>
      post(`/work-orders/${w.order}/estimates`, body, { expect: 422, problem: 'invalid-input', fields })
    await refused({ lines: [labour, { ...labour, job_id: stranger.id }] }, ['/lines/1/job_id'])
    await refused({ lines: [{ ...labour, part_id: 'no such' }] }, ['/lines/0/part_id'])
    await refused({ lines: [labour], discount_minor: 9901 }, ['/discount_minor'])
    await refused({ lines: [] }, ['/lines'])
    await refused({ lines: [{ ...labour, unit_minor: -1 }] }, ['/lines/0/unit_minor'])
    await post(`/work-orders/${w.order}/estimates`, { lines: [labour] }, { as: 'technician', expect: 403 })
  })

  test('the highest yes holds, with tax added where it had none', async () => {
    const yes = {
      amount_minor: 11_500,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
      at: '2031-03-03T07:46:00Z',
    }
    const { body } = await post(`/work-orders/${w.order}/authorisations`, yes, { as: 'desk' })
    expect(body).toMatchObject(yes.at === body.at ? yes : { ...yes, at: '2031-03-03T07:46:00.000Z' })
    await post(`/work-orders/${w.order}/authorisations`, { ...yes, amount_minor: 10_000, includes_tax: false })
    await post(`/work-orders/${w.order}/authorisations`, { ...yes, amount_minor: 9000 })
    expect(chargesOfOrder(t.system, w.order)).toMatchObject({ agreed_minor: 12_000, has_yes: true })
    await post(
      `/work-orders/${w.order}/authorisations`,
      { ...yes, estimate_id: 'no such' },
      { expect: 422, fields: ['/estimate_id'] },
    )
    await post(`/work-orders/${w.order}/authorisations`, yes, { as: 'technician', expect: 403 })
    expect((await get(`/work-orders/${w.order}/authorisations/${body.id}`)).body).toEqual(body)
  })

  test('the largest lines that are taken still add up', async () => {
    const largest = { ...labour, quantity: 10_000, unit_minor: 100_000_000, tax_bp: 10_000 }
    const { body } = await post(`/work-orders/${w.order}/estimates`, {
      lines: Array.from({ length: 200 }, () => largest),
    })
    expect(body.gross_minor).toBe(400 * 1e12)
  })
})

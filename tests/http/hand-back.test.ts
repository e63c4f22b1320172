import fc from 'fast-check'
import { beforeEach, describe, expect, test } from 'vitest'
import { closeStep, handBack, standingOfOrder, voidJobSafely } from '../../src/hand-back/index.ts'
import { Problem } from '../../src/platform/problems.ts'
import { odometerReadings } from '../../src/vehicles/index.ts'
import {
  addJob,
  authoriseAmount,
  chargesOfOrder,
  completeJob,
  type Job,
  openStep,
  planOfOrder,
  putToolIn,
  takeToolOut,
} from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const add = (operation: keyof OrderWorld['operations'], order = w.order) =>
  addJob(w.desk, order, { operation_id: w.operations[operation] })
const open = (job: Job, ...steps: string[]) => {
  for (const step of steps) openStep(w.technician, job.id, step, {})
}
const close = (job: Job, ...steps: string[]) => {
  for (const step of steps) closeStep(w.technician, job.id, step, {})
}
const agree = (amount_minor: number, order = w.order) =>
  authoriseAmount(w.desk, order, { amount_minor, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })
const closing = (job: Job, step: string, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/jobs/${job.id}/steps/${step}/closings`, body: {}, expect: 201, ...more })
const postHandBack = (body: object = {}, more: object = {}) =>
  scenario(t, { as: 'desk', post: `/api/work-orders/${w.order}/hand-back`, body, expect: 201, ...more })
const blocked = async (body: object = {}): Promise<string[]> => {
  const reply = await postHandBack(body, { expect: 409, problem: 'hand-back-blocked' })
  return reply.body.blockers.map((blocker: { reason: string }) => blocker.reason)
}

describe('POST /api/jobs/{id}/steps/{step_id}/closings', () => {
  test('is refused while anything is behind the step, with every reason in a sentence', async () => {
    const job = add('bearing')
    open(job, w.wheel, w.carrier, w.shaft, w.hub)
    putToolIn(w.technician, job.id, { tool: 'holding plate no. 3', before_step_id: w.hub })
    const { body } = await closing(job, w.carrier, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toEqual([
      { reason: 'tool_in', sentence: 'Holding plate no. 3 is still in.', href: `/bench/jobs/${job.id}` },
      { reason: 'step_open', sentence: '"Axle shaft out" is still open.', href: `/bench/jobs/${job.id}` },
      { reason: 'step_open', sentence: '"Hub carrier out" is still open.', href: `/bench/jobs/${job.id}` },
      { reason: 'look_missing', sentence: 'The look at the brake hose is not done.', href: `/bench/jobs/${job.id}` },
      {
        reason: 'joint_unsigned',
        sentence: 'Drive flange is not signed: 2 of 2 still to tighten.',
        href: `/bench/joints/${job.joints[0]!.id}`,
      },
    ])
    expect(body.detail).toMatch(/^"Brake carrier aside" cannot be closed yet: holding plate no. 3 is still in; /)
    const { body: hub } = await closing(job, w.hub, { expect: 409, problem: 'step-blocked' })
    expect(hub.blockers).toHaveLength(1)
  })

  test('goes from the inside out once everything is done', async () => {
    const job = add('bearing')
    open(job, w.wheel, w.carrier, w.shaft, w.hub)
    await closing(job, w.hub)
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
    w.finishJoint(job.joints[0]!.id)
    const { body, headers } = await closing(job, job.steps[2]!.id)
    expect(body).toMatchObject({ access_step_id: w.shaft, step_id: job.steps[2]!.id })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    w.lookFine(job.looks[0]!.id)
    await closing(job, w.carrier)
    await closing(job, w.wheel)
    await closing(job, w.wheel, { expect: 409, problem: 'step-not-open' })
  })

  test('looks across all jobs of the order', async () => {
    const [boot, bearing] = [add('boot'), add('bearing')]
    open(boot, w.wheel, w.carrier, w.shaft)
    const { body } = await closing(boot, w.shaft, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toMatchObject([{ reason: 'joint_unsigned' }])
    voidJobSafely(w.desk, bearing.id, { reason: 'Not wanted' })
    await closing(boot, w.shaft)
  })

  test('a tool outlives its voided job, and so does a step that it opened', async () => {
    const [boot, bearing] = [add('boot'), add('bearing')]
    open(bearing, w.wheel, w.carrier, w.shaft, w.hub)
    const tool = putToolIn(w.technician, bearing.id, { tool: 'Plug', before_step_id: w.carrier })
    voidJobSafely(w.desk, bearing.id, { reason: 'Not wanted' })
    await closing(boot, w.shaft, { expect: 409, problem: 'step-blocked' })
    await closing(bearing, w.hub)
    await closing(boot, w.shaft)
    const { body } = await closing(boot, w.carrier, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toMatchObject([{ reason: 'tool_in', sentence: 'Plug is still in.' }])
    takeToolOut(w.technician, tool.id, {})
    await closing(boot, w.carrier)
  })

  test('a later record takes the signature back', async () => {
    const job = add('bearing')
    open(job, w.wheel, w.carrier, w.shaft)
    w.finishJoint(job.joints[0]!.id)
    w.tighten(job.joints[0]!.id, 1, 26)
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
  })

  test('is for technicians, for steps that there are, and not before the opening', async () => {
    const job = add('boot')
    await closing(job, w.wheel, { expect: 409, problem: 'step-not-open' })
    openStep(w.technician, job.id, w.wheel, { at: '2031-03-03T09:00:00Z' })
    await closing(job, w.wheel, { body: { at: '2031-03-03T08:59:00Z' }, expect: 422, fields: ['/at'] })
    await closing(job, w.wheel, { as: 'desk', expect: 403 })
    await closing(job, w.hub, { expect: 404 })
    await closing({ ...job, id: 'nothing' }, w.wheel, { expect: 404 })
  })
})

describe('POST /api/jobs/{id}/voiding', () => {
  test('is refused while a joint was begun and is not signed', async () => {
    const job = add('bearing')
    w.tighten(job.joints[0]!.id, 1)
    const voiding = (more: object) =>
      scenario(t, {
        as: 'desk',
        post: `/api/jobs/${job.id}/voiding`,
        body: { reason: 'Not wanted' },
        expect: 201,
        ...more,
      })
    await voiding({ expect: 409, problem: 'joint-begun' })
    w.finishJoint(job.joints[0]!.id)
    await voiding({})
  })
})

describe('POST /api/work-orders/{id}/hand-back', () => {
  const finish = (job: Job) => {
    w.finishJoint(job.joints[0]!.id)
    w.lookFine(job.looks[0]!.id)
    w.checkFine(job.final_checks[0]!.id)
  }

  test('names everything that is missing', async () => {
    const job = add('bearing')
    open(job, w.wheel)
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
    ['step_open', (job: Job) => open(job, w.wheel)],
    ['look_missing', () => void add('bearing')],
    ['joint_unsigned', (job: Job) => w.tighten(job.joints[0]!.id, 1)],
    ['check_failed', (job: Job) => void w.checkFine(job.final_checks[0]!.id, false)],
    ['above_agreed', () => void addJob(w.desk, w.order, { task: 'Rattle', hours: 10 })],
  ])('is refused for %s alone or among others', async (reason, spoil) => {
    const job = add('bearing')
    finish(job)
    agree(30_000)
    spoil(job)
    expect(await blocked()).toContain(reason)
    expect(standingOfOrder(t.system, w.order).state).not.toBe('ready')
  })

  test('a tool of a voided job still blocks', async () => {
    const job = add('bearing')
    const tool = putToolIn(w.technician, job.id, { tool: 'Drain tray' })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    expect(await blocked()).toEqual(['tool_in'])
    takeToolOut(w.technician, tool.id, {})
    await postHandBack()
  })

  test('a check that failed is done again: the newest result counts', async () => {
    const job = add('bearing')
    finish(job)
    agree(30_000)
    w.checkFine(job.final_checks[0]!.id, false)
    expect(await blocked()).toEqual(['check_failed'])
    w.checkFine(job.final_checks[0]!.id)
    await postHandBack()
  })

  test('makes the invoice, the warranties and the reading', async () => {
    const [bearing, boot] = [add('bearing'), add('boot')]
    open(bearing, w.wheel, w.carrier, w.shaft, w.hub)
    finish(bearing)
    close(bearing, w.hub, w.shaft, w.carrier, w.wheel)
    agree(30_960)
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
    const job = add('bulb')
    completeJob(w.technician, job.id, {})
    agree(1000)
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
    add('bulb')
    const { body } = await postHandBack({ borne_minor: 1440, borne_reason: 'A comeback of ours' })
    expect(body.invoice).toMatchObject({ gross_minor: 0, net_minor: 0 })
  })

  test('invoice numbers have no gap, whatever was refused between', async () => {
    const orders = [w.order, w.openOrder(), w.openOrder()]
    const numbers: string[] = []
    for (const order of orders) {
      add('bulb', order)
      expect(() => handBack(w.desk, order, {})).toThrow(/hand-back-blocked/)
      agree(1440, order)
      numbers.push(handBack(w.desk, order, {}).invoice.number)
    }
    expect(numbers).toEqual(['2031-0001', '2031-0002', '2031-0003'])
    t.clock.set(Date.UTC(2032, 0, 1, 9))
    const next = w.openOrder()
    expect(handBack(w.desk, next, {}).invoice.number).toBe('2032-0001')
  })

  test('closes the order for change', async () => {
    const job = add('bulb')
    agree(1440)
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
    add('bulb')
    agree(1440)
    const first = await postHandBack({}, { key: 'tap' })
    const again = await postHandBack({}, { key: 'tap', events: 0 })
    expect(again.body).toEqual(first.body)
  })
})

describe('the pages', () => {
  const page = async (path: string, cookie = t.cookie('desk')) =>
    t.app.inject({ url: `/work-orders/${w.order}/${path}`, headers: { cookie } })
  const send = async (fields: Record<string, string>) => {
    const [action, cookie] = [`/work-orders/${w.order}/hand-back`, t.cookie('desk')]
    const form = formFields((await page('hand-back', cookie)).body, action)
    return sendForm(t, action, cookie, Object.entries({ ...form, ...fields }))
  }

  test('say what is missing, in sentences with links', async () => {
    const job = add('bearing')
    putToolIn(w.technician, job.id, { tool: 'drain tray' })
    const { body, statusCode } = await page('hand-back')
    expect(statusCode).toBe(200)
    expect(body).toContain('Drain tray is still in.')
    expect(body).toContain(`href="/bench/jobs/${job.id}"`)
    expect(body).toMatch(/Nobody has said yes to €266\.40 yet/)
    expect((await page('invoice')).headers.location).toBe(`/work-orders/${w.order}/hand-back`)
  })

  test('keep what was typed when it cannot go yet', async () => {
    add('bulb')
    const refused = await send({ odometer_km: '143 731', borne_minor: '1.40', borne_reason: '' })
    expect(refused.statusCode).toBe(422)
    expect(refused.body).toContain('href="#borne-reason"')
    expect(formFields(refused.body, `/work-orders/${w.order}/hand-back`)).toMatchObject({
      odometer_km: '143 731',
      borne_minor: '1.40',
    })
    const blockedPage = await send({ borne_minor: '1.40', borne_reason: 'Ours' })
    expect(blockedPage.statusCode).toBe(409)
    expect(blockedPage.body.match(/nobody has said yes to €13\.00/gi)).toHaveLength(1)
    expect(t.deps.store.raw.prepare('select count(*) from hand_backs').pluck().get()).toBe(0)
  })

  test('hand back, and print the invoice that goes with the vehicle', async () => {
    add('bulb')
    agree(1000)
    const done = await send({ odometer_km: '143731', borne_minor: '4.40', borne_reason: 'The lamp was ours' })
    expect([done.statusCode, done.headers.location]).toEqual([303, `/work-orders/${w.order}/invoice`])
    const { body } = await page('invoice')
    for (const text of [
      'Invoice 2031-0001',
      'A Rear lamp bulb: replace',
      '€10.00',
      'Borne by us, tax included: The lamp was ours',
      '-€4.40',
      '2 March 2032',
      '163,731 km',
    ]) {
      expect(body).toContain(text)
    }
    expect((await page('hand-back')).body).toContain('invoice 2031-0001')
    const technician = await page('hand-back', t.cookie('technician'))
    expect(technician.statusCode).toBe(403)
    expect(
      (await t.app.inject({ url: '/work-orders/none/invoice', headers: { cookie: t.cookie('desk') } })).statusCode,
    ).toBe(404)
  })
})

/** One thing that somebody might do; `aim` 0 is the sensible place for it, anything else is off by so much. */
const doing = fc.record({
  do: fc.constantFrom(
    'open',
    'open',
    'close',
    'close',
    'tool in',
    'tool out',
    'tool out',
    'finish',
    'void',
    'hand back',
  ),
  job: fc.nat(1),
  aim: fc.constantFrom(0, 0, 0, 0, 1, 2),
})

test('no sequence of doings closes a step over something, or hands a vehicle back with something in it', () => {
  let [closings, handBacks] = [0, 0]
  fc.assert(
    fc.property(fc.array(doing, { minLength: 30, maxLength: 30 }), doings => {
      const order = w.openOrder()
      const jobs = [add('boot', order), add('bearing', order)]
      agree(100_000, order)
      const act = (what: string, job: Job, aim: number) => {
        const { steps, jobs: rows } = planOfOrder(t.system, order)
        const inner = steps.filter(step => step.is_open).length
        const at = (place: number) => steps[Math.max(0, Math.min(3, place))]!.access_step_id
        if (what === 'open') open(jobs[1]!, at(inner + aim))
        else if (what === 'close') close(jobs[1]!, at(inner - 1 - aim))
        else if (what === 'tool in')
          putToolIn(w.technician, job.id, { tool: 'Plug', ...(aim < 2 && { before_step_id: at(inner - 1 + aim) }) })
        else if (what === 'tool out') {
          const tool = rows.flatMap(row => row.tools_in).find(row => row.removed_at === null)
          if (tool !== undefined) takeToolOut(w.technician, tool.id, {})
        } else if (what === 'void') voidJobSafely(w.desk, jobs[aim === 0 ? 0 : 1]!.id, { reason: 'Not wanted' })
        else if (what === 'hand back') handBack(w.desk, order, {})
        else {
          for (const joint of job.joints) w.finishJoint(joint.id)
          for (const look of job.looks) w.lookFine(look.id)
          for (const check of job.final_checks) w.checkFine(check.id)
        }
        if (what === 'close') closings += 1
        if (what === 'hand back') handBacks += 1
      }
      for (const each of doings) {
        try {
          act(each.do, jobs[each.job]!, each.aim)
        } catch (error) {
          if (!(error instanceof Problem)) throw error
        }
        expect(whatIsWrong(order), JSON.stringify(each)).toEqual([])
      }
    }),
    { numRuns: 15, seed: 2031 },
  )
  expect(closings, 'steps that were really closed').toBeGreaterThan(10)
  expect(handBacks, 'vehicles that were really handed back').toBeGreaterThan(2)
})

/** Read from the tables alone, by other means than the program's: what lies closed over something, or left the house with it. */
function whatIsWrong(order: string): unknown[] {
  const { raw } = t.deps.store
  const steps = raw
    .prepare(
      `select s.access_step_id id, s.needs,
        (select count(*) from step_openings o join job_steps x on x.id = o.job_step_id join jobs y on y.id = x.job_id
          where y.work_order_id = j.work_order_id and x.access_step_id = s.access_step_id) opened,
        (select count(*) from step_closings c join job_steps x on x.id = c.job_step_id join jobs y on y.id = x.job_id
          where y.work_order_id = j.work_order_id and x.access_step_id = s.access_step_id) closed
      from job_steps s join jobs j on j.id = s.job_id where j.work_order_id = ? group by s.access_step_id`,
    )
    .all(order) as { id: string; needs: string; opened: number; closed: number }[]
  const tools = raw
    .prepare(
      `select i.before_step_id before from tools_in i join jobs j on j.id = i.job_id where j.work_order_id = ?
        and not exists (select 1 from tool_removals r where r.tool_in_id = i.id)`,
    )
    .all(order) as { before: string | null }[]
  const hasLeft = raw.prepare('select 1 from hand_backs where work_order_id = ?').get(order) !== undefined
  const isOpen = (step: { opened: number; closed: number }) => step.opened > step.closed
  const outerOf = (id: string): typeof steps => {
    const step = steps.find(each => each.id === id)!
    return [step, ...(JSON.parse(step.needs) as string[]).flatMap(outerOf)]
  }
  return [
    ...steps.filter(step => step.opened - step.closed > 1 || step.closed > step.opened),
    ...steps.filter(step => isOpen(step) && !outerOf(step.id).every(isOpen)),
    ...tools.filter(({ before }) => before !== null && outerOf(before).some(step => step.opened > 0 && !isOpen(step))),
    ...(hasLeft ? [...tools, ...steps.filter(isOpen)] : []),
  ]
}

import { beforeEach, describe, expect, test } from 'vitest'
import { jointStates } from '../../src/fastening/index.ts'
import { recordFinalCheck } from '../../src/findings/index.ts'
import { closeStep, standingOfOrder } from '../../src/hand-back/index.ts'
import { addJob, type Job, openStep, planOfOrder } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { hiddenFields, scenario, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
  cookie = t.cookie('technician', 'Tobin Rask')
})

const card = () => `/bench/jobs/${job.id}`
const joint = () => `/bench/joints/${job.joints[0]!.id}`
const openAll = () => {
  for (const step of job.steps) openStep(w.technician, job.id, step.id, {})
}
/** Presses a button that is a form of its own. */
async function tap(from: string, action: string, more: Record<string, string> = {}) {
  const hidden = Object.fromEntries(hiddenFields(await page(t, from, cookie), action))
  return sendForm(t, action, cookie, Object.entries({ ...hidden, ...more }))
}

describe('the job card', () => {
  test('says what is next and why the rest must wait, and opens a step in one tap', async () => {
    expect(await page(t, card(), cookie)).toContain('cannot be done yet: &quot;Wheel off&quot; comes first')
    const reply = await tap(card(), `${card()}/openings`)
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `${card()}#next`])
    expect(planOfOrder(w.desk, w.order).steps.find(step => step.name === 'Wheel off')!.is_open).toBe(true)
  })

  test('a step that cannot be closed comes back with every reason, and nothing is written', async () => {
    openAll()
    const before = t.eventCount()
    const hub = job.steps.find(step => step.name === 'Wheel off')!
    const reply = await tap(card(), `${card()}/closings`, { step_id: hub.id })
    expect(reply.statusCode).toBe(409)
    expect(reply.body).toMatch(/the look at the brake hose is not done/i)
    expect(t.eventCount()).toBe(before)
  })

  test('a tool put in stands on the card and on the list of tools out until it is taken out', async () => {
    await fillIn(t, cookie, card(), { tool: 'Holding plate no. 3', before_step_id: job.steps[0]!.access_step_id })
    expect(await page(t, '/tools-out', cookie)).toContain('Holding plate no. 3')
    expect((await tap(card(), `${card()}/removals`)).statusCode).toBe(303)
    expect(await page(t, '/tools-out', cookie)).toContain('No tool is in any vehicle.')
  })

  test('a look becomes a finding with its cause, and the look has its result', async () => {
    openAll()
    const asked = `${card()}/finding?look_id=${job.looks[0]!.id}`
    const { reply } = await fillIn(
      t,
      cookie,
      `${card()}/finding`,
      { failure_mode: 'chafed', advice: 'not_on_the_road' },
      asked,
    )
    expect(reply.statusCode).toBe(303)
    const html = await page(t, card(), cookie)
    expect(html).toContain('found: chafed')
    expect(html).toContain('Not on the road')
  })

  test('a safety look is left out by the owner only; a technician is told so', async () => {
    const url = `${card()}/looks/${job.looks[0]!.id}/skip`
    w.open(job, w.wheel, w.carrier)
    const offered = await page(t, card(), cookie)
    expect([offered.includes('Looked: fine'), offered.includes('Leave it out')]).toEqual([true, false])
    const told = await page(t, url, cookie)
    expect(told).toContain('Only the owner may leave it out.')
    expect(told).not.toContain('<form action="/bench/jobs')
    expect(told).toContain(`href="${card()}">Back to the job card`)
    const sent = await scenario(t, {
      ...{ as: 'technician', post: `/api/looks/${job.looks[0]!.id}/result`, body: { skipped_reason: 'No time' } },
      ...{ expect: 403 },
    })
    expect(sent.body.type).toBe('/problems/role-not-allowed')
    expect(await page(t, card(), t.cookie('owner', 'Marta Oake'))).toContain('Leave it out')
    const { reply } = await fillIn(t, t.cookie('owner', 'Marta Oake'), url, { skipped_reason: 'Seen this morning' })
    expect(reply.statusCode).toBe(303)
  })

  test('is there for any login to read, and 404 for nobody’s job', async () => {
    await page(t, card(), t.cookie('desk', 'Ilse Marrok'))
    await page(t, '/bench/jobs/nobody', cookie, 404)
  })
})

describe('the joint', () => {
  const state = () => jointStates(w.desk, [job.joints[0]!.id]).get(job.joints[0]!.id)!

  test('records what the wrench shows for the fastener that is next, then takes the signature', async () => {
    for (const value of ['25', '25,2']) {
      const { reply } = await fillIn(t, cookie, joint(), { value })
      expect(reply.statusCode).toBe(303)
    }
    expect(state()).toMatchObject({ complete: true, signed: false })
    expect((await tap(joint(), `${joint()}/sign-offs`)).headers.location).toBe(card())
    expect(state().signed).toBe(true)
  })

  test.each([
    ['nothing', ''],
    ['a word', 'tight'],
    ['zero', '0'],
    ['an absurd number', '1000000000'],
    ['another unit', '25 lbf·ft'],
  ])('refuses %s beside the reading, keeps what was typed and records nothing', async (_, value) => {
    const before = t.eventCount()
    const { reply } = await fillIn(t, cookie, joint(), { value })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('id="value-problem"')
    expect(reply.body).toContain(`value="${value}"`)
    expect(t.eventCount()).toBe(before)
  })

  test('a reading outside its limits is kept and said, and asks for the procedure’s rule', async () => {
    await fillIn(t, cookie, joint(), { value: '36' })
    const html = await page(t, joint(), cookie)
    expect(html).toContain('Fastener 1 went outside its limits at stage 1.')
    expect(html).toContain('redo')
  })

  test('sending the same form twice records once', async () => {
    const { reply, fields } = await fillIn(t, cookie, joint(), { value: '25' })
    const before = t.eventCount()
    const again = await sendForm(t, joint(), cookie, fields)
    expect([again.statusCode, again.headers.location]).toEqual([303, reply.headers.location])
    expect(t.eventCount()).toBe(before)
  })

  test('another fastener than the next asks why, with ready answers, and the answer stays on the record', async () => {
    const asked = `${joint()}?position=2`
    expect(await page(t, asked, cookie)).toContain('It is not this one’s turn. Why now?')
    await fillIn(t, cookie, joint(), { value: '25', out_of_order_reason: 'The next one cannot be reached yet' }, asked)
    expect(await page(t, joint(), cookie)).toContain('The next one cannot be reached yet')
  })

  test('a record is put right by a new one that says why', async () => {
    await fillIn(t, cookie, joint(), { value: '36' })
    const id = t.deps.store.raw.prepare('select id from torque_records').pluck().get() as string
    await fillIn(t, cookie, `${joint()}/records/${id}`, { value: '26', reason: 'Read it upside down' })
    const html = await page(t, joint(), cookie)
    expect(html).toContain('<s>36 N·m: outside its limits</s>')
    expect(html).toContain('Read it upside down')
  })

  test('what happened instead of a reading is one tap', async () => {
    await tap(joint(), `${joint()}/events`, { event: 'broke' })
    expect(await page(t, joint(), cookie)).toContain('Fastener 1 broke at stage 1.')
  })

  test('the desk reads it and records nothing', async () => {
    const { reply } = await fillIn(t, t.cookie('desk', 'Ilse Marrok'), joint(), { value: '25' })
    expect(reply.statusCode).toBe(403)
  })

  test('a record put right after the signature asks for the signature again, and says that the old one counts no longer', async () => {
    for (const value of ['25', '25.2']) await fillIn(t, cookie, joint(), { value })
    await tap(joint(), `${joint()}/sign-offs`)
    const id = t.deps.store.raw.prepare('select id from torque_records order by id desc').pluck().get() as string
    await fillIn(t, cookie, `${joint()}/records/${id}`, { value: '25.3', reason: 'Read it again' })
    expect(state().signed).toBe(false)
    expect(await page(t, joint(), cookie)).toContain('counts no longer: something was recorded after it')
    await tap(joint(), `${joint()}/sign-offs`)
    expect(state().signed).toBe(true)
  })

  test('another fastener without a reason is asked for one, by its field', async () => {
    const { reply } = await fillIn(t, cookie, joint(), { value: '25' }, `${joint()}?position=2`)
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('Say why it is another one’s turn.')
  })
})

test('a final check counts no longer once a step is opened again after it', async () => {
  const boot = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
  for (const step of boot.steps) openStep(w.technician, boot.id, step.id, {})
  const check = boot.final_checks[0]!
  recordFinalCheck(w.technician, check.id, { fine: true })
  const fine = () =>
    !standingOfOrder(w.desk, w.order).blockers.some(
      blocker => blocker.href.includes(boot.id) && blocker.reason === 'check_missing',
    )
  expect(fine()).toBe(true)
  t.clock.set(t.clock.now() + 60_000)
  const inner = boot.steps.at(-1)!
  closeStep(w.technician, boot.id, inner.id, {})
  openStep(w.technician, boot.id, inner.id, {})
  expect(fine()).toBe(false)
})

import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { createComponent } from '../../src/catalogue/index.ts'
import { updateAccessStep } from '../../src/catalogue/service/access-steps.ts'
import { notePriorWork, recordCheck } from '../../src/findings/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { createPart } from '../../src/parts/index.ts'
import { updateCustomer } from '../../src/vehicles/service/customers.ts'
import { completeJob, makeEstimate } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let order: string
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  order = `/work-orders/${w.order}`
  cookie = t.cookie('desk')
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')

describe('a yes that was written down wrongly', () => {
  const agreed = async () => (await scenario(t, { as: 'desk', get: `/api${order}`, expect: 200 })).body.agreed_minor

  test('counts no more once it was taken back, and stays with the reason', async () => {
    w.agree(120_000)
    const right = w.agree(65_000)
    expect(await agreed()).toBe(120_000)
    const { body } = await scenario(t, { as: 'desk', get: `/api${order}/authorisations`, expect: 200 })
    const wrong = `${order}/authorisations/${body.items[0].id}/withdrawal`
    expect(await page(t, order, cookie)).toContain(`href="${wrong}"`)
    const { reply } = await fillIn(t, cookie, wrong, { reason: 'A comma too many' })
    expect(reply.headers.location).toBe(`${order}#yes`)
    expect(await agreed()).toBe(65_000)
    const html = await page(t, order, cookie)
    expect(html).toContain('<s>€1,200.00</s>')
    expect(read(html)).toContain('taken back by desk person, 3 Mar 2031, 08:00: A comma too many')
    const withdraw = (id: string, expected: number, more: object = {}) =>
      scenario(t, {
        ...{
          as: 'desk',
          post: `/api${order}/authorisations/${id}/withdrawal`,
          body: { reason: 'x' },
          expect: expected,
        },
        ...more,
      })
    await withdraw(body.items[0].id, 409, { problem: 'authorisation-withdrawn' })
    await withdraw('none', 404)
    await withdraw(right.id, 403, { as: 'technician' })
    expect((await withdraw(right.id, 201)).body.withdrawn).toMatchObject({ reason: 'x' })
    expect(await agreed()).toBe(0)
  })
})

test('the work order says what others did before, with how well the day is known', async () => {
  expect(await page(t, order, cookie)).not.toContain('What others did before')
  notePriorWork(t.system, w.vehicle, {
    ...{ operation: 'Hub seal: replace', by: 'other', on: '2030-10-04', exactness: 'month', evidence: 'Owner says' },
  })
  expect(read(await page(t, order, cookie))).toContain(
    'What others did before Hub seal: replace: by another workshop, in October 2030 (Owner says).',
  )
})

test('before hand-back it is asked what safety hangs on, was laid open, and nobody looked at', async () => {
  createComponent(w.owner, {
    ...{ name: 'Tyre', severity: 'safety', causes: [], check_minutes: 5, access_step_ids: [] },
  })
  const { body, headers } = await scenario(t, { as: 'owner', get: `/api/access-steps/${w.wheel}`, expect: 200 })
  expect(body.exposes).not.toContain('Tyre')
  const version = Number(/\d+/.exec(headers.etag ?? '')?.[0])
  updateAccessStep(w.owner, w.wheel, version, { exposes: ['Tyre'] })
  w.add('boot')
  const asked = async () => read(await page(t, `${order}/hand-back`, cookie))
  const question = 'The strip-down laid the tyre open, safety hangs on it, and nobody has written down a look at it.'
  expect(await asked()).toContain(question)
  recordCheck(w.technician, w.order, { component: 'Tyre', fine: true })
  expect(await asked()).not.toContain(question)
})

test('a choice among several records begins with none of them', async () => {
  createPart(w.desk, { number: 'AL-600', name: 'Alternator' })
  w.add('boot')
  const html = await page(t, `${order}/part-lines`, cookie)
  const select = /<select [^>]*name="part_id".*?<\/select>/s.exec(html)![0]
  expect(select).toContain('<option value="">')
  // the only job is nobody's question
  expect(/<select [^>]*name="job_id".*?<\/select>/s.exec(html)![0]).not.toContain('value=""')
})

test('an odometer of 84.500 is asked about: the point may stand for thousands', async () => {
  const { reply } = await fillIn(t, cookie, `/vehicles/${w.vehicle}/odometer`, {
    distance_km: '184.500',
    odometer: '184.500',
  })
  expect(reply.statusCode).toBe(422)
  expect(reply.body).toContain('Write 184500 or 184.5: before three digits the sign can mean either.')
})

test('the invoice says how to pay, and how to reach whom it is for', async () => {
  patchSettings(w.owner, { invoice_note: 'To account 4471.\r\n\nTax number QH-118.' }, 0)
  updateCustomer(w.desk, w.customer, 1, { phone: '0555 014 200' })
  const job = w.add('bulb')
  completeJob(w.technician, job.id, {})
  w.agree(100_000)
  handBack(w.desk, w.order, {})
  const html = await page(t, `${order}/invoice`, cookie)
  expect(html).toContain('<p class="prose">To account 4471.</p><p class="prose">Tax number QH-118.</p>')
  expect(read(html)).toContain('Bodil Farrow 0555 014 200')
})

test('a version of the estimate says what it changed against the one before', async () => {
  const job = w.add('bulb').id
  const hours = (quantity: number) => ({
    ...{ kind: 'labour' as const, job_id: job, text: 'Bulb renewed', quantity, unit_minor: 6000, tax_bp: 2000 },
  })
  const lamp = { kind: 'other' as const, text: 'Lamp, left', quantity: 1, unit_minor: 500, tax_bp: 2000 }
  makeEstimate(w.desk, w.order, { lines: [hours(1)] })
  makeEstimate(w.desk, w.order, { lines: [hours(2), lamp] })
  expect(read(await page(t, `${order}/estimates/1`, cookie))).not.toContain('different from the version before')
  // by hand: 60.00 and a fifth is 72.00; 120.00 + 5.00 and a fifth is 150.00
  expect(read(await page(t, `${order}/estimates/2`, cookie))).toContain(
    'Was Is Bulb renewed changed 1 × €60.00 2 × €60.00 Lamp, left new – 1 × €5.00 Together €72.00 €150.00',
  )
})

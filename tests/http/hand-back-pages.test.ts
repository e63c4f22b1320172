import { beforeEach, describe, expect, test } from 'vitest'
import { completeJob, putToolIn } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { formFields, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

describe('the pages of the hand-back', () => {
  const page = async (path: string, cookie = t.cookie('desk')) =>
    t.app.inject({ url: `/work-orders/${w.order}/${path}`, headers: { cookie } })
  const send = async (fields: Record<string, string>) => {
    const [action, cookie] = [`/work-orders/${w.order}/hand-back`, t.cookie('desk')]
    const form = formFields((await page('hand-back', cookie)).body, action)
    return sendForm(t, action, cookie, Object.entries({ ...form, ...fields }))
  }

  test('say what is missing, in sentences with links', async () => {
    const job = w.add('bearing')
    putToolIn(w.technician, job.id, { tool: 'drain tray' })
    const { body, statusCode } = await page('hand-back')
    expect(statusCode).toBe(200)
    expect(body).toContain('Drain tray is still in.')
    expect(body).toContain(`href="/bench/jobs/${job.id}"`)
    expect(body).toMatch(/Nobody has said yes to €266\.40 yet/)
    expect((await page('invoice')).headers.location).toBe(`/work-orders/${w.order}/hand-back`)
  })

  test('ask about a job that nobody called done', async () => {
    const job = w.add('bulb')
    w.agree(100_000)
    const { body } = await page('hand-back')
    expect(body).toContain('Nobody has said that job A, rear lamp bulb: replace, is done. Was it?')
    completeJob(w.technician, job.id, {})
    expect((await page('hand-back')).body).not.toContain('Nobody has said that job')
  })

  test('keep what was typed when it cannot go yet', async () => {
    w.add('bulb')
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
    w.add('bulb')
    w.agree(1000)
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
      '163\u00a0731\u00a0km',
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

import { beforeEach, describe, expect, test } from 'vitest'
import { openStep } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let first: string

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const all = async () => (await scenario(t, { as: 'desk', get: '/api/losses', expect: 200 })).body.items
const decide = (body: object, more: object = {}) =>
  scenario(t, { as: 'owner', post: `/api/losses/${first}/causes`, body, expect: 201, ...more })

/** Wheel and carrier are opened, closed and opened again: the wheel at the customer's cost once, then both at ours. */
beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  const job = w.add('boot')
  const again = (step: string, reason: string, borne_by: 'us' | 'customer') =>
    openStep(w.technician, job.id, step, { reason, borne_by }).id
  w.open(job, w.wheel)
  w.close(job, w.wheel)
  again(w.wheel, 'The customer asked to see it', 'customer')
  w.open(job, w.carrier)
  w.close(job, w.carrier, w.wheel)
  first = again(w.wheel, 'Clip left off', 'us')
  again(w.carrier, 'Clip left off', 'us')
})

describe('what was opened again at our cost before the vehicle left', () => {
  test('is one loss with its steps, hours and cost, and no comeback', async () => {
    // 0.3 + 0.4 h at the default cost rate of 40.00
    expect(await all()).toEqual([
      {
        ...{ id: first, work_order_id: w.order, at: '2031-03-03T08:00:00.000Z', reason: 'Clip left off' },
        ...{ steps: ['Wheel off', 'Brake carrier aside'], hours: 0.7, labour_minor: 2800, causes: [] },
      },
    ])
    expect((await scenario(t, { as: 'desk', get: '/api/suspicions', expect: 200 })).body.items).toEqual([])
    expect((await scenario(t, { as: 'desk', get: `/api/losses/${first}`, expect: 200 })).body.id).toBe(first)
    await scenario(t, { as: 'desk', get: '/api/losses/none', expect: 404 })
  })

  test('gets a cause from the owner; a changed mind names the one before and leaves it to be seen', async () => {
    const cause = { category: 'assembly_or_alignment', root_cause: ['Clip left off', 'The light was poor'] }
    await decide(cause, { as: 'technician', expect: 403 })
    await decide({ ...cause, category: '' }, { expect: 422, fields: ['/category'] })
    const { body, headers } = await decide(cause)
    expect(headers.location).toBe(`/api/losses/${first}`)
    await decide(cause, { expect: 409, problem: 'loss-decided' })
    await decide({ ...cause, category: 'tightening', supersedes: body.id })
    const [{ causes }] = await all()
    expect(causes).toMatchObject([
      { category: 'assembly_or_alignment' },
      { category: 'tightening', supersedes: body.id },
    ])
    await scenario(t, { as: 'owner', post: '/api/losses/none/causes', body: cause, expect: 404 })
  })

  test('stands on a page, and is explained there', async () => {
    const cookie = t.cookie('owner')
    const address = `/comebacks/losses/${first}`
    expect(read(await page(t, '/comebacks/losses', cookie))).toContain('1 to explain')
    expect(read(await page(t, '/comebacks/losses', t.cookie('technician')))).not.toContain('Say why')
    const empty = await fillIn(t, cookie, address, { why_failed: 'Poor light' })
    expect(empty.reply.statusCode).toBe(422)
    expect(empty.reply.body).toContain('Choose a cause, or write one.')
    expect(empty.reply.body).toContain('value="Poor light"')
    await fillIn(t, cookie, address, { category: 'tightening', what_failed: 'Clip left off' })
    await fillIn(t, cookie, address, { category: '', other_category: 'Hurry' })
    const html = await page(t, '/comebacks/losses', cookie)
    expect(read(html)).toContain('0 to explain')
    expect(read(html)).toContain(
      'Wheel off, Brake carrier aside Clip left off 0.7 €28.00 Hurry Change it Clip left off before: tightening',
    )
    expect(html).toContain('<s>tightening</s>')
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { createVehicle } from '../../src/vehicles/index.ts'
import { updateWorkOrder } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let order: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  order = `/work-orders/${w.order}`
  // a second vehicle: with one alone the box would lead straight to it
  createVehicle(w.desk, { family: 'Pikko Tramp 125', plate: 'QH 2', odometer_unit: 'km', keeper_id: w.customer })
  w.add('bulb')
  w.agree(100_000)
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const BELT = { what: 'The drive belt', from_whom: 'Fen Bearings', expected_on: '2031-03-05' }
const wait = (body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api${order}/waits`, body, expect: 201, ...more })
const end = (id: string, body: object, more: object = {}) =>
  scenario(t, { as: 'desk', post: `/api/waits/${id}/end`, body, expect: 201, ...more })

describe('what a vehicle waits for', () => {
  test('is said wherever somebody asks whether it is ready, until it is here', async () => {
    const { body, headers } = await wait(BELT)
    expect(headers.location).toBe(`/api${order}/waits/${body.id}`)
    const said = 'the drive belt from Fen Bearings, expected on 5 March 2031'
    for (const address of ['/', `/?q=farrow`, order]) {
      expect(read(await page(t, address, t.cookie('desk'))), address).toContain(said)
    }
    t.clock.set(Date.parse('2031-03-06T08:00:00Z'))
    expect(read(await page(t, '/', t.cookie('desk')))).toContain('which was expected on 5 March 2031 and is not here')
    expect((await end(body.id, {})).body.ended).toMatchObject({ at: '2031-03-06T08:00:00.000Z' })
    await end(body.id, {}, { expect: 409, problem: 'wait-ended' })
    expect(read(await page(t, '/', t.cookie('desk')))).not.toContain('drive belt')
    const kept = await scenario(t, { as: 'desk', get: `/api${order}/waits`, expect: 200 })
    expect(kept.body.items).toMatchObject([{ ...BELT, ended: { by: expect.any(String) } }])
  })

  test('is refused without a word, on no order, and on one that was handed back', async () => {
    await wait({ ...BELT, what: '' }, { expect: 422, fields: ['/what'] })
    await wait(BELT, { post: '/api/work-orders/none/waits', expect: 404 })
    await end('none', {}, { expect: 404 })
    const { body } = await scenario(t, { as: 'desk', get: `/api${order}/jobs`, expect: 200 })
    await scenario(t, { as: 'technician', post: `/api/jobs/${body.items[0].id}/completion`, body: {}, expect: 201 })
    await scenario(t, { as: 'desk', post: `/api${order}/hand-back`, body: {}, expect: 201 })
    await wait(BELT, { expect: 409, problem: 'work-order-handed-back' })
  })

  test('is written down and ended on the pages: here by one tap, given up with a word', async () => {
    const cookie = t.cookie('desk')
    const { reply } = await fillIn(t, cookie, `${order}/waits`, BELT)
    expect(reply.headers.location).toBe(`${order}#waits`)
    await fillIn(t, cookie, `${order}/waits`, { what: 'The other one' })
    const html = await page(t, order, cookie)
    const [first, second] = [...html.matchAll(/action="\/waits\/([^/]+)\/arrival"/g)].map(match => match[1])
    await fillIn(t, cookie, `/waits/${first}/arrival`, {}, order)
    const empty = await fillIn(t, cookie, `/waits/${second}/end`, { note: '' })
    expect(empty.reply.statusCode).toBe(422)
    await fillIn(t, cookie, `/waits/${second}/end`, { note: 'No longer made' })
    const after = read(await page(t, order, cookie))
    expect(after).toContain('here, 3 Mar 2031, 08:00, desk person')
    expect(after).toContain('No longer made, 3 Mar 2031, 08:00, desk person')
  })
})

test('a promised day that is moved leaves the one before to be seen', async () => {
  const version = (nth: number, promised_on: string | null) => updateWorkOrder(w.desk, w.order, nth, { promised_on })
  version(1, '2031-03-05')
  version(2, '2031-03-07')
  updateWorkOrder(w.desk, w.order, 3, { place: 'Lift 2' })
  const { body } = await scenario(t, { as: 'desk', get: `/api${order}/moved-promises`, expect: 200 })
  expect(body.items).toMatchObject([{ now_on: '2031-03-05' }, { was_on: '2031-03-05', now_on: '2031-03-07' }])
  expect(read(await page(t, order, t.cookie('desk')))).toContain(
    'Promised for 7 March 2031, before that for 5 March 2031.',
  )
  expect(read(await page(t, '/?q=farrow', t.cookie('desk')))).toContain(
    'Promised for Friday 7 March 2031, before that for Wednesday 5 March 2031.',
  )
  expect(read(await page(t, '/', t.cookie('desk')))).toContain('7 Mar 2031 before: 5 Mar 2031')
})

import { beforeEach, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { hiddenFields, scenario, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let order: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  order = `/work-orders/${w.order}`
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const add = (body: object, expected: number, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api${order}/boxes`, body, expect: expected, ...more })
const BOX = { what: 'Hub parts, left', place: 'shelf 3, top' }

test('a box is added, moved and emptied; where it stood stays, and a full one is asked about before the vehicle leaves', async () => {
  const { body: box } = await add(BOX, 201)
  expect(box).toMatchObject({ work_order_id: w.order, what: BOX.what, places: [{ place: BOX.place }] })
  const asked = async () => (await scenario(t, { as: 'desk', get: `/api${order}`, expect: 200 })).body.to_ask
  expect(await asked()).toContainEqual({
    reason: 'box_not_empty',
    sentence: 'There is a box that nobody has called empty: hub parts, left, at shelf 3, top. Is everything back on?',
    href: `${order}#places`,
  })
  const place = (body: object, expected = 201) =>
    scenario(t, { as: 'desk', post: `/api/boxes/${box.id}/places`, body, expect: expected })
  await place({ place: 'bay 2' })
  await place({})
  const { body } = await scenario(t, { as: 'desk', get: `/api${order}/boxes`, expect: 200 })
  expect(body.items[0].places.map((each: { place?: string }) => each.place)).toEqual([BOX.place, 'bay 2', undefined])
  expect((await asked()).map((each: { reason: string }) => each.reason)).not.toContain('box_not_empty')
  await place({ place: '' }, 422)
  await add({ what: 'x' }, 422, { fields: ['/place'] })
  await scenario(t, { as: 'desk', post: '/api/boxes/none/places', body: {}, expect: 404 })
})

test('the work order says where things are, and each full box has a label', async () => {
  const cookie = t.cookie('technician')
  const { reply } = await fillIn(t, cookie, `${order}/boxes`, BOX)
  expect(reply.headers.location).toBe(`${order}#places`)
  await add({ what: 'Bolts in a bag', place: 'hook 4' }, 201)
  const html = await page(t, order, cookie)
  expect(read(html)).toMatch(/Hub parts, left shelf 3, top/)
  const emptied = /\/boxes\/[^/"]+\/emptied/.exec(html)![0]
  const labels = await page(t, `${order}/labels`, cookie)
  expect(read(labels)).toMatch(/QH 418 TK 2031-0001 Hub parts, left Box 1 of 2 shelf 3, top/)
  expect(labels.match(/<path d="M/g)).toHaveLength(3)
  await sendForm(t, emptied, cookie, hiddenFields(html, emptied))
  expect(read(await page(t, order, cookie))).toContain('empty: everything is back on before: shelf 3, top')
  expect(read(await page(t, `${order}/labels`, cookie))).not.toContain('Hub parts')
  const box = /\/boxes\/[^/"]+\/place/.exec(await page(t, order, cookie))![0]
  expect((await fillIn(t, cookie, box, { place: 'bay 1' })).reply.statusCode).toBe(303)
  expect(read(await page(t, order, cookie))).toMatch(/Bolts in a bag bay 1 before: hook 4/)
})

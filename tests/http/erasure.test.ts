import { beforeEach, expect, test } from 'vitest'
import { handBack } from '../../src/hand-back/index.ts'
import { verify } from '../../src/platform/database/verify.ts'
import { authoriseAmount, writeTalk } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  const renamed = {
    as: 'desk',
    patch: `/api/customers/${w.customer}`,
    body: { note: 'Bodil rings early' },
    ifMatch: '"1"',
  } as const
  await scenario(t, { ...renamed, expect: 200 })
  writeTalk(w.desk, w.order, { with: 'Bodil Farrow', how: 'telephone', said: 'Bodil needs it for Thursday.' })
  authoriseAmount(w.desk, w.order, { amount_minor: 10_000, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })
})

const erase = (more: object) =>
  scenario(t, {
    as: 'owner',
    post: `/api/customers/${w.customer}/erasure`,
    body: { reason: 'Asked by letter' },
    expect: 201,
    ...more,
  })

test('an erased person is nowhere in the tables, and the record chain stays whole', async () => {
  handBack(w.desk, w.order, {})
  const { headers } = await erase({})
  expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body.reason).toBe('Asked by letter')
  expect((await scenario(t, { as: 'desk', get: `/api/customers/${w.customer}`, expect: 200 })).body.name).toBe('Erased')
  const tables = t.deps.store.raw
    .prepare("select name from sqlite_schema where type = 'table'")
    .pluck()
    .all() as string[]
  const everything = tables.flatMap(table => t.deps.store.raw.prepare(`select * from "${table}"`).all())
  expect(JSON.stringify(everything)).not.toMatch(/Bodil|It hums from the back/)
  expect(verify(t.deps.store.raw)).toEqual([])
  await erase({ expect: 409, problem: 'customer-erased' })
})

test('is refused while a vehicle of theirs is here, for other roles, without a reason, and for nobody', async () => {
  await erase({ expect: 409, problem: 'customer-in-house' })
  await erase({ as: 'desk', expect: 403 })
  await erase({ body: {}, expect: 422, fields: ['/reason'] })
  await scenario(t, { as: 'owner', post: '/api/customers/nobody/erasure', body: { reason: 'x' }, expect: 404 })
  await scenario(t, { as: 'owner', get: `/api/customers/${w.customer}/erasure`, expect: 404 })
})

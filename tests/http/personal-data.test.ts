import { beforeEach, expect, test } from 'vitest'
import { handBack } from '../../src/hand-back/index.ts'
import { createCustomer, updateVehicle, vehicleById } from '../../src/vehicles/index.ts'
import { authoriseAmount, writeTalk } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

/** Bodil's van was taken in and handed back, and then it was sold to Edda, who came with it too. */
beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  writeTalk(w.desk, w.order, { with: 'Bodil Farrow', how: 'telephone', said: 'Needs it for Thursday.' })
  authoriseAmount(w.desk, w.order, { amount_minor: 10_000, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })
})

const dataOf = (customer: string, as: 'desk' | 'technician' = 'desk', expected = 200) =>
  scenario(t, { as, get: `/api/customers/${customer}/personal-data`, expect: expected })

function keptBy(customer: string): void {
  updateVehicle(w.desk, w.vehicle, vehicleById(w.desk, w.vehicle).version, { keeper_id: customer })
}

test('holds what a person keeps and kept, said, agreed and paid', async () => {
  keptBy(w.customer)
  handBack(w.desk, w.order, {})
  const { body } = await dataOf(w.customer)
  expect(body.customer).toMatchObject({ name: 'Bodil Farrow' })
  expect(body.vehicles).toMatchObject([
    { vehicle_id: w.vehicle, plate: 'QH 418 TK', since: '2031-03-03T08:00:00.000Z' },
  ])
  expect(body.work_orders).toMatchObject([
    {
      number: '2031-0001',
      complaint: 'It hums from the back above forty.',
      talks: [{ said: 'Needs it for Thursday.' }],
      authorisations: [{ said_by: 'Bodil Farrow', amount_minor: 10_000 }],
      hand_back: { invoice: { number: '2031-0001' } },
    },
  ])
})

test('a vehicle that changes its keeper keeps its history, and neither keeper gets anything of the other', async () => {
  keptBy(w.customer)
  handBack(w.desk, w.order, {})
  const edda = createCustomer(w.desk, { name: 'Edda Vane', phone: '0555 014 664' }).id
  keptBy(edda)
  w.openOrder({ customer_id: edda, complaint: 'It squeals.', odometer_km: 143_800 })
  const [hers, his] = [(await dataOf(edda)).body, (await dataOf(w.customer)).body]
  expect(hers.vehicles).toEqual([expect.not.objectContaining({ until: expect.anything() })])
  expect(his.vehicles).toMatchObject([{ vehicle_id: w.vehicle, until: '2031-03-03T08:00:00.000Z' }])
  expect(hers.work_orders.map((order: { number: string }) => order.number)).toEqual(['2031-0002'])
  expect(JSON.stringify(hers)).not.toMatch(/Bodil|It hums/)
  expect(JSON.stringify(his)).not.toMatch(/Edda|It squeals/)
  const { body: history } = await scenario(t, { as: 'desk', get: `/api/vehicles/${w.vehicle}/history`, expect: 200 })
  expect(history.events.length).toBeGreaterThan(0)
  const sheet = await page(t, `/vehicles/${w.vehicle}`, t.cookie('desk'))
  expect(sheet).toContain('Edda Vane')
  expect(sheet).not.toMatch(/Bodil|It hums/)
})

test('is for desk and owner; nobody has none', async () => {
  await dataOf(w.customer, 'technician', 403)
  await dataOf('nobody', 'desk', 404)
  const link = `/api/customers/${w.customer}/personal-data`
  expect(await page(t, `/customers/${w.customer}`, t.cookie('desk'))).toContain(link)
  expect(await page(t, `/customers/${w.customer}`, t.cookie('technician'))).not.toContain(link)
})

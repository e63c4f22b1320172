import { beforeEach, describe, expect, test } from 'vitest'
import { componentById, updateComponent } from '../../src/catalogue/service/components.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { addPartLine, completeJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
const DAY = 24 * 60 * 60 * 1000

const ask = async (body: object, expected = 200, fields?: string[]) =>
  (
    await scenario(t, {
      ...{ as: 'desk', post: '/api/analysis/new-or-used', key: null, body, expect: expected },
      ...(fields && { fields }),
    })
  ).body

/** The hub seal is put right by changing the bulb, which has no strip-down: any operation will do. */
function nameRemedy(operation: keyof OrderWorld['operations'], severity: 'breakdown' | 'safety' = 'breakdown'): void {
  const id = t.system.store.raw.prepare("select id from components where name = 'Hub seal'").pluck().get() as string
  const { version } = componentById(t.system, id)
  updateComponent(w.owner, id, version, {
    ...{ remedy_operation_id: w.operations[operation], remedy_part_minor: 1720, severity },
  })
}

/** A stay on a vehicle of its own, with a part of a condition or none; handed back today. Gives the vehicle. */
function stay(condition?: 'new' | 'used' | 'reconditioned'): string {
  const { id } = createVehicle(w.desk, { family: 'Pikko', odometer_unit: 'km' })
  const order = w.openOrder({ vehicle_id: id })
  const job = w.add('bulb', order)
  if (condition !== undefined)
    addPartLine(w.desk, job.id, {
      ...{ part_id: w.part, quantity: 1, condition, cost_minor: 0, price_minor: 0 },
    })
  w.agree(1_000_000, order)
  completeJob(w.technician, job.id, {})
  handBack(w.desk, order, {})
  return id
}

function failed(vehicle_id: string, found_on: string): void {
  recordFinding(w.technician, { vehicle_id, component: 'Hub seal', severity: 'breakdown', found_on })
}

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

describe('POST /api/analysis/new-or-used', () => {
  test('counts jobs that were out for their term by what was fitted, and says where they tie', async () => {
    nameRemedy('bulb')
    const fresh = [1, 2, 3, 4].map(() => stay('new'))
    const used = [1, 2].map(() => stay('used'))
    stay()
    t.clock.set(t.clock.now() + 366 * DAY)
    failed(fresh[0]!, '2032-03-03')
    failed(used[0]!, '2031-06-01')
    failed(used[1]!, '2031-03-03')
    // still out for its term, so that nobody knows yet
    stay('used')
    const answer = await ask({ component: 'Hub seal', prices: { used: 900 } })
    // all: seven jobs, of which the used one failed; the new one a day after its term, the other on the day itself
    expect(answer).toMatchObject({ component: 'Hub seal', term_days: 365, n_all: 7, n_failed_all: 1 })
    const [newOne, usedOne, reconditioned] = answer.offers
    expect(newOne).toMatchObject({ condition: 'new', n: 4, n_failed: 0, borrows: true, price_minor: 1720 })
    expect(usedOne).toMatchObject({ condition: 'used', n: 2, n_failed: 1, price_minor: 900 })
    expect(reconditioned).toMatchObject({ n: 0, n_failed: 0, price_minor: null, expected_minor: null })
    const all = 1.5 / 8
    expect(newOne.chance).toBeCloseTo((0.5 + 4 * all) / 9, 12)
    expect(usedOne.chance).toBeCloseTo((1.5 + 4 * all) / 7, 12)
    // 0.2 h at 60 an hour and the part, no strip-down
    const later = 1200 + 1720
    expect(answer.cost_later_minor).toBe(later)
    expect(newOne.expected_minor).toBe(1720 + Math.round(newOne.chance * later))
    expect(usedOne.expected_minor).toBe(900 + Math.round(usedOne.chance * later))
    const discount = Math.round(usedOne.chance * later) - Math.round(newOne.chance * later)
    expect(usedOne).toMatchObject({ tie_discount_minor: discount, tie_price_minor: 1720 - discount })
    expect(newOne).toMatchObject({ tie_discount_minor: 0, tie_price_minor: 1720 })
  })

  test('imported work of ours counts among all, and the strip-down is part of doing it again', async () => {
    nameRemedy('boot')
    importRows(
      t.system,
      [
        {
          vehicle: 'A',
          family: 'F',
          date: '2029-01-01',
          event: 'work',
          by: 'us',
          operation: 'Axle shaft boot: replace',
        },
        {
          vehicle: 'B',
          family: 'F',
          date: '2029-01-01',
          event: 'work',
          by: 'other',
          operation: 'Axle shaft boot: replace',
        },
        {
          vehicle: 'A',
          family: 'F',
          date: '2029-04-01',
          event: 'failure',
          component: 'Hub seal',
          by: '',
          operation: '',
        },
      ].map(row => ({ component: '', ...row })),
    )
    const answer = await ask({ component: 'Hub seal' })
    expect(answer).toMatchObject({ n_all: 1, n_failed_all: 1 })
    // 0.6 h and the part now, 0.3 + 0.4 + 0.9 h of strip-down again
    expect(answer.cost_later_minor).toBe(3600 + 1720 + 9600)
  })

  test('refuses what it does not know, and what nothing puts right', async () => {
    await ask({ component: 'Nothing' }, 422, ['/component'])
    await ask({ component: 'Hub seal' }, 422, ['/component'])
    nameRemedy('bulb')
    await ask({ component: 'Hub seal', prices: { used: -1 } }, 422, ['/prices/used'])
  })
})

describe('where a part is chosen', () => {
  const says = async () =>
    (await page(t, `/work-orders/${w.order}/part-lines`, t.cookie('desk')))
      .replace(/<[^>]*>/g, ' ')
      .replace(/[\s\u00a0]+/g, ' ')

  test('the answer stands for the components that the jobs put right', async () => {
    w.add('bulb')
    expect(await says()).not.toContain('New or used')
    nameRemedy('bulb')
    expect(await says()).toContain(
      'Hub seal: cannot tell. No such job has been out for its whole term of 365 days yet.',
    )
    for (let number = 0; number < 3; number += 1) stay('new')
    t.clock.set(t.clock.now() + 366 * DAY)
    expect(await says()).toContain(
      'new 0 of 3. Whether a used one lasts as long nobody can tell: none has been out for its whole term.',
    )
    const used = stay('used')
    t.clock.set(t.clock.now() + 366 * DAY)
    failed(used, '2032-06-01')
    const text = await says()
    expect(text).toContain('New or used Hub seal: failed again within 365 days: new 0 of 3, used 1 of 1.')
    expect(text).toMatch(
      /A used one must be €\d+\.\d\d cheaper than a new one to make up for failing more often: beside a new one at €17\.20 it pays below €\d+\.\d\d\./,
    )
    expect(text).toContain('drawn to that of all such jobs: 1 of 4')
  })

  test('safety is no question of money', async () => {
    nameRemedy('bulb', 'safety')
    w.add('bulb')
    expect(await says()).toContain(
      'Caution Hub seal: safety hangs on it. Whether a used one may be fitted the maker’s manual says, not the price.',
    )
  })
})

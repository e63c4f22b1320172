import { describe, expect, test } from 'vitest'
import { createAccessStep, operationOfName, updateOperation } from '../../src/catalogue/index.ts'
import { notePriorWork, recordFinding } from '../../src/findings/index.ts'
import { createCustomer } from '../../src/vehicles/index.ts'
import { addJob, jobById, openWorkOrder } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { formFields, sendForm } from '../support/http.ts'

const app = eachTestItsApp()

const OPERATION = 'Belt: renew'
const PAIR = '/recurring/pair?operation=Belt%3A+renew&component=Bearing&failure_mode=noisy'

/** Eight vehicles of one family; the bearing fails 50 days after the belt on four, 500 days after it on one, and once without. */
function belts(): Record<string, string | number>[] {
  const rows: Record<string, string | number>[] = []
  for (let number = 0; number < 8; number += 1) {
    const row = (date: string, more: Record<string, string | number>) =>
      rows.push({ vehicle: `V${number}`, family: 'Haulette', date, ...more })
    const failure = { event: 'failure', component: 'Bearing', failure_mode: 'noisy' }
    row('2027-01-01', { event: 'in_service' })
    row('2031-01-01', { event: 'seen', distance: 40_000 })
    if (number < 5) row('2028-03-02', { event: 'work', by: 'us', operation: OPERATION })
    if (number < 4) row('2028-04-21', failure)
    if (number === 4) row('2029-07-15', failure)
    if (number === 7) row('2030-06-01', failure)
  }
  return rows
}

const textOf = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|[\s\u00a0]+/g, ' ')

const read = async (t: TestApp, address: string, role: 'owner' | 'desk' = 'owner') =>
  textOf(await page(t, address, t.cookie(role)))

describe('the window of what follows what', () => {
  test('is a year unless it is taken away, and then the page says what that does', async () => {
    const t = await app()
    importRows(t.system, belts())
    const usual = await read(t, '/recurring')
    expect(usual).toContain('then a failure on the same vehicle within 365 days')
    expect(usual).toMatch(/Found in 4 of 5 such vehicles/)
    expect(usual).not.toContain('Without a window')
    const form = formFields(await page(t, '/recurring', t.cookie('owner')), '/recurring')
    expect(form.window).toBe('365')
    const whole = await read(t, '/recurring?any_time=true&window=365')
    expect(whole).toContain('at any time after it')
    expect(whole).toMatch(/Found in 5 of 5 such vehicles/)
    expect(whole).toContain('Without a window old vehicles are compared with young ones')
    expect(await read(t, '/recurring?clock=distance')).toMatch(/within 20 000 km/)
    expect(await read(t, '/recurring?window=600')).toMatch(/Found in 5 of 5 such vehicles/)
    expect(await read(t, `${PAIR}&any_time=true`)).toContain('in 5 of 5 such vehicles')
  })

  test('the API keeps none', async () => {
    const t = await app()
    importRows(t.system, belts())
    const answer = await t.app.inject({
      url: '/api/analysis/prior-work',
      headers: { authorization: `Bearer ${t.tokens.desk}` },
    })
    interface Pair {
      exposed: { events: number; time: number }
      unexposed: { time: number }
      rate_ratio: number
      more_time_to_tell: number
    }
    const { pairs } = answer.json() as { pairs: Pair[] }
    expect(pairs).toMatchObject([{ exposed: { events: 5 }, vehicles_failed: 5 }])
    // v = 1/5 + 1/1 over one stratum; ((1.959964 + 0.841621)/ln ratio)² times that, less what is there
    const { exposed, unexposed, rate_ratio, more_time_to_tell } = pairs[0]!
    const ratio = 5 / exposed.time / (1 / unexposed.time)
    expect(rate_ratio).toBeCloseTo(ratio, 10)
    const needed = (1 / 5 + 1) * (2.8015852181 / Math.log(ratio)) ** 2
    expect(more_time_to_tell).toBeCloseTo(Math.max(0, needed - 1) * exposed.time, 6)
  })
})

describe('the page of a pair', () => {
  test('says that it was caused by it where a finding says so, and only there', async () => {
    const t = await app()
    importRows(t.system, belts())
    const vehicle_id = t.system.store.raw
      .prepare("select id from vehicles where imported_as = 'V6'")
      .pluck()
      .get() as string
    const { id } = notePriorWork(t.as('technician'), vehicle_id, {
      ...{ operation: OPERATION, by: 'other', on: '2030-12-01', exactness: 'day' },
    })
    expect(await read(t, PAIR)).toContain('That is an association, not yet a cause.')
    recordFinding(t.as('technician'), {
      ...{ vehicle_id, component: 'Bearing', failure_mode: 'noisy', severity: 'safety', found_on: '2031-03-01' },
      caused_by: { prior_work_id: id },
    })
    const text = await read(t, PAIR)
    expect(text).toContain('A finding says that it was caused by this work. They are marked below')
    expect(text).toMatch(/1 Mar 2031 90 days another workshop caused by it/)
    expect(text).toMatch(/21 Apr 2028 50 days us nothing/)
    expect(await read(t, '/recurring')).toContain('A finding says that it was caused by this work.')
  })

  test('a pair with too few failures to test says so', async () => {
    const t = await app()
    importRows(t.system, belts())
    expect(await read(t, `${PAIR}&min_events=9`)).toContain(
      '“Bearing, noisy” came after “Belt: renew” 4 times, on 4 vehicles. That is too few to test.',
    )
  })
})

describe('Look at it on every such job', () => {
  const press = async (t: TestApp, address: string) => {
    const cookie = t.cookie('owner')
    const fields = formFields(await page(t, address, cookie), '/recurring/pair/looks')
    return sendForm(t, '/recurring/pair/looks', cookie, Object.entries(fields))
  }

  test('is put on the operation for jobs to come; those that exist keep theirs', async () => {
    const t = await app()
    importRows(t.system, belts())
    const owner = t.as('owner')
    const wheel = createAccessStep(owner, {
      ...{ name: 'Wheel off', hours: 0.3, needs: [], exposes: ['Bearing'], disturbs: [] },
    }).id
    const guard = createAccessStep(owner, {
      ...{ name: 'Guard off', hours: 0.2, needs: [wheel], exposes: [], disturbs: [] },
    }).id
    const operation = operationOfName(owner, OPERATION)!
    updateOperation(owner, operation.id, operation.version, { hours: 0.5, access_step_ids: [guard] })
    const order = openWorkOrder(t.as('desk'), {
      vehicle_id: t.system.store.raw.prepare('select id from vehicles limit 1').pluck().get() as string,
      customer_id: createCustomer(t.as('desk'), { name: 'Bodil Farrow' }).id,
      ...{ complaint: 'It squeals.', symptoms: [], arrived: 'runs' },
    }).id
    const before = addJob(t.as('desk'), order, { operation_id: operation.id })

    const reply = await press(t, PAIR)
    expect([reply.statusCode, reply.headers.location]).toEqual([
      303,
      '/recurring/pair?operation=Belt%3A+renew&component=Bearing&failure_mode=noisy',
    ])
    // as the catalogue knows it: an imported name says neither what it puts at risk nor how long a look takes
    expect(operationOfName(owner, OPERATION)!.looks).toEqual([
      { component: 'Bearing', severity: 'breakdown', minutes: 10, behind_step_id: wheel },
    ])
    expect(jobById(owner, before.id).looks).toEqual([])
    expect(addJob(t.as('desk'), order, { operation_id: operation.id }).looks).toMatchObject([{ component: 'Bearing' }])

    const html = await page(t, PAIR, t.cookie('owner'))
    expect(textOf(html)).toContain('Every new job “Belt: renew” asks for a look at “Bearing”.')
    expect(html).not.toContain('/recurring/pair/looks')
    expect(await read(t, '/recurring')).toContain('Every new job “Belt: renew” asks for a look at “Bearing”.')
  })

  test('is the owner’s: others read only that it is asked for', async () => {
    const t = await app()
    importRows(t.system, belts())
    expect(await page(t, PAIR, t.cookie('desk'))).not.toContain('/recurring/pair/looks')
    const fields = formFields(await page(t, PAIR, t.cookie('owner')), '/recurring/pair/looks')
    const reply = await sendForm(t, '/recurring/pair/looks', t.cookie('desk'), Object.entries(fields))
    expect(reply.statusCode).toBe(403)
    expect(operationOfName(t.as('owner'), OPERATION)!.looks).toEqual([])
  })

  test('is refused when somebody has changed the operation since, or asked already', async () => {
    const t = await app()
    importRows(t.system, belts())
    const cookie = t.cookie('owner')
    const fields = formFields(await page(t, PAIR, cookie), '/recurring/pair/looks')
    const operation = operationOfName(t.as('owner'), OPERATION)!
    updateOperation(t.as('owner'), operation.id, operation.version, { hours: 0.5 })
    expect((await sendForm(t, '/recurring/pair/looks', cookie, Object.entries(fields))).statusCode).toBe(412)
    const again = formFields(await page(t, PAIR, cookie), '/recurring/pair/looks')
    expect((await sendForm(t, '/recurring/pair/looks', cookie, Object.entries(again))).statusCode).toBe(303)
    const twice = { ...again, _version: String(operationOfName(t.as('owner'), OPERATION)!.version), _key: 'another' }
    const refused = await sendForm(t, '/recurring/pair/looks', cookie, Object.entries(twice))
    expect([refused.statusCode, operationOfName(t.as('owner'), OPERATION)!.looks.length]).toEqual([422, 1])
  })
})

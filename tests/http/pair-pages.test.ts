import { describe, expect, test } from 'vitest'
import { createAccessStep, operationOfName, updateOperation } from '../../src/catalogue/index.ts'
import { decideComeback } from '../../src/comebacks/index.ts'
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
    expect(text).toContain('A finding says that it was caused by this work. What people say is no part of the numbers.')
    expect(text).toMatch(/1 Mar 2031 90 days another workshop caused by it, says a finding/)
    expect(text).toMatch(/21 Apr 2028 50 days us nothing/)
    expect(await read(t, '/recurring')).toContain('A finding says that it was caused by this work.')
  })

  test('stands beside the comebacks that a person confirmed, each with its decision and root cause', async () => {
    const t = await app()
    const work = { event: 'work', by: 'us', operation: OPERATION }
    const again = { event: 'failure', component: 'Bearing', failure_mode: 'noisy', comeback_of: 'first' }
    importRows(t.system, [
      ...belts(),
      { vehicle: 'V6', family: 'Haulette', date: '2030-12-01', id: 'late', ...work },
      { vehicle: 'V5', family: 'Haulette', date: '2030-08-01', id: 'first', ...work },
      { vehicle: 'V5', family: 'Haulette', date: '2030-09-01', ...again },
    ])
    const one = (query: string) => t.system.store.raw.prepare(query).pluck().get() as string
    const vehicle_id = one("select id from vehicles where imported_as = 'V6'")
    const customer_id = createCustomer(t.as('desk'), { name: 'Bodil Farrow' }).id
    const stay = { vehicle_id, customer_id, complaint: 'It hums.', symptoms: [], arrived: 'runs' as const }
    const later_work_order_id = openWorkOrder(t.as('desk'), stay).id
    for (const failure_mode of ['noisy', 'loose'])
      recordFinding(t.as('technician'), {
        ...{ vehicle_id, component: 'Bearing', failure_mode, severity: 'safety', found_on: '2031-03-03' },
      })
    const importedOnly = await read(t, PAIR)
    expect(importedOnly).toContain('1 comeback of such work with this failure is confirmed by a person.')
    expect(importedOnly).toMatch(/1 Sep 2030 31 days us a comeback, says the imported history/)
    const pair = { earlier_job_id: one("select id from history_events where row_name = 'late'"), later_work_order_id }
    const said = { ...pair, why: 'The belt is like a string', borne_by: 'us' as const }
    const root_cause = ['The bearing wore', 'The belt was set too tight']
    const { id } = decideComeback(t.as('owner'), { ...said, decision: 'confirmed', root_cause })
    const evidence =
      'No finding names this work as the cause yet. 2 comebacks of such work with this failure are confirmed by a person. What people say is no part of the numbers.'
    const html = await page(t, PAIR, t.cookie('owner'))
    expect(textOf(html)).toContain(evidence)
    expect(textOf(html)).toMatch(
      /3 Mar 2031 92 days us a comeback, confirmed : The bearing wore; The belt was set too tight/,
    )
    const decision = `/comebacks/${pair.earlier_job_id}/${later_work_order_id}`
    expect(html).toContain(`href="${decision}"`)
    const desk = await page(t, PAIR, t.cookie('desk'))
    expect([desk.includes(decision), desk.includes('<a href="/comebacks">a comeback, confirmed</a>')]).toEqual([
      false,
      true,
    ])
    const list = await read(t, '/recurring')
    expect(list).toContain('by us. 2 comebacks of such work with this failure are confirmed by a person.')
    decideComeback(t.as('owner'), { ...said, decision: 'ruled_out', root_cause: [], supersedes: id })
    expect(await read(t, PAIR)).toContain('1 comeback of such work with this failure is confirmed by a person.')
  })

  test('a pair with too few failures to test says so', async () => {
    const t = await app()
    importRows(t.system, belts())
    expect(await read(t, `${PAIR}&min_events=9`)).toContain(
      '“Bearing, noisy” came after “Belt: renew” 4 times, on 4 vehicles. That is too few to test.',
    )
  })
})

/** Of two families the old one has more of both: within each the failure comes as often after the work as without it. */
function decoy(): Record<string, string | number>[] {
  const rows: Record<string, string | number>[] = []
  for (const [family, works, failing] of [
    ['Tramp', 9, [0, 1, 2, 3, 4, 5, 9, 10]],
    ['Twin', 1, [11]],
  ] as const)
    for (let number = 0; number < 12; number += 1) {
      const row = (date: string, more: Record<string, string>) =>
        rows.push({ vehicle: `${family}${number}`, family, date, ...more })
      row('2028-01-01', { event: 'in_service' })
      row('2031-01-01', { event: 'seen' })
      if (number < works) row('2028-01-01', { event: 'work', by: 'us', operation: OPERATION })
      const failure = { event: 'failure', component: 'Bearing', failure_mode: 'noisy' }
      if (failing.some(each => each === number)) row('2028-06-01', failure)
    }
  return rows
}

describe('a pair that only looks like one', () => {
  test('says so on its page as in its row, is called no association, and asks for no look', async () => {
    const t = await app()
    importRows(t.system, decoy())
    const sentence = 'Looks like it only because some families have more of both'
    const any = `${PAIR}&any_time=true`
    const html = await page(t, any, t.cookie('owner'))
    expect(await read(t, '/recurring?any_time=true')).toContain(sentence)
    expect(textOf(html)).toContain(sentence)
    expect(textOf(html)).toContain('The numbers do not show that it follows such work.')
    expect(textOf(html)).not.toContain('association')
    expect(html).not.toContain('/recurring/pair/looks')
  })
})

describe('the list of pairs', () => {
  test('has what is shown first, then what may be, then what is not, and says so', async () => {
    const t = await app()
    const brakes = { event: 'work', by: 'us', operation: 'Brakes: bleed' }
    importRows(t.system, [
      ...belts(),
      ...Array.from({ length: 3 }, (_, number) => {
        return { vehicle: `V${number + 5}`, family: 'Haulette', date: '2027-01-02', ...brakes }
      }),
    ])
    const list = await read(t, '/recurring?any_time=true')
    expect(list).toContain(
      'Pair by pair: often, then may be, then not shown; in each, the least likely by chance first',
    )
    const says = [...list.matchAll(/(often|may be|not shown to be) followed by/g)].map(([, word]) => word)
    const rank = ['often', 'may be', 'not shown to be']
    const rows = says.slice(-2)
    expect(rows.map(word => rank.indexOf(word!))).toEqual(rows.map(word => rank.indexOf(word!)).sort())
    expect(list).toContain('Expect wrong')
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

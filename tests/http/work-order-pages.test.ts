import { beforeEach, describe, expect, test } from 'vitest'
import { recordFinding } from '../../src/findings/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import {
  addJob,
  authorisationsOfOrder,
  authoriseAmount,
  chargesOfOrder,
  completeJob,
  estimatesOfOrder,
  handBackOf,
  jobsOfOrder,
  openStep,
  putToolIn,
  talksOfOrder,
  workOrderById,
} from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { sendForm } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let cookie: string
let address: string

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  cookie = t.cookie('desk')
  address = `/work-orders/${w.order}`
})

const fill = (form: string, typed: Record<string, string>) => fillIn(t, cookie, `${address}${form}`, typed, address)
const own = (form: string, typed: Record<string, string>) => fillIn(t, cookie, `${address}${form}`, typed)

describe('/work-orders/{id}', () => {
  test('says where it stands, what it costs, what was found and what is still in it', async () => {
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    addJob(w.desk, w.order, { operation_id: w.operations.boot })
    for (const step of [w.wheel, w.carrier]) openStep(w.technician, job.id, step, {})
    putToolIn(w.technician, job.id, { tool: 'holding plate no. 3', before_step_id: w.carrier })
    recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, job_id: job.id, component: 'Rear hub', failure_mode: 'worn', severity: 'safety' },
      ...{ found_on: '2031-03-03', advice: 'not_on_the_road', note: 'It hums when turned by hand' },
    })
    authoriseAmount(w.desk, w.order, {
      amount_minor: 40_000,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
    })
    const html = await page(t, address, t.cookie('technician'))
    expect(html).toContain('In work')
    // 1 h and 0.6 h of their own, 2.7 h of strip-down once, at 60.00 an hour, with 20 % tax
    expect(html).toContain('€309.60')
    expect(html).toContain('of €400.00 agreed')
    expect(html).toContain('€90.40')
    expect(html).toContain('4.3 h; one at a time 5.9 h')
    expect(html).toContain('Rear hub: worn. It hums when turned by hand.')
    expect(html).toContain('Not on the road.')
    expect(html).toMatch(
      /Holding plate no\. 3, put in 3 Mar 2031, 08:00 by technician token\. It must be out before &quot;Brake carrier aside&quot; is closed\./,
    )
    expect(html).toContain('Strip-down tree of work order 2031-0001')
    expect(html).toContain('Wheel off 0.3 h, once for A B')
    expect(html).toContain('href="/bench/jobs/')
    expect(html).not.toContain('Record a yes')
    await page(t, '/work-orders/none', cookie, 404)
  })

  test('shows the flags with their reason and their link, and no chance', async () => {
    w.finish(w.order)
    const back = w.later(41)
    const html = await page(t, `/work-orders/${back}`, t.cookie('desk'))
    expect(html).toContain('Ours, back?')
    expect(html).toContain(
      'Came in 41 days after “Rear lamp bulb: replace” (work order 2031-0001); still under warranty',
    )
    // the way to decide is the owner's alone
    expect(html).toContain('The owner decides.')
    expect(html).not.toContain('Open the suspicion')
    expect(await page(t, `/work-orders/${back}`, t.cookie('owner'))).toContain('Open the suspicion')
    expect(html).not.toContain('were comebacks')
  })

  test('once it has left, nothing more is asked for but a talk', async () => {
    w.finish(w.order)
    expect(handBackOf(t.system, w.order)).toBeDefined()
    const html = await page(t, address, cookie)
    expect(html).toContain(`href="${address}/invoice"`)
    expect(html).not.toContain(`action="${address}/jobs"`)
    expect(html).not.toContain(`action="${address}/authorisations"`)
    const { reply } = await fill('/talks', { said: 'It hums again.', how: 'By telephone' })
    expect(reply.statusCode).toBe(303)
  })
})

test('what we bore is not asked of the customer: the order says what the invoice says', async () => {
  const order = w.openOrder()
  const bulb = addJob(w.desk, order, { operation_id: w.operations.bulb })
  completeJob(w.technician, bulb.id, {})
  const { total_minor } = chargesOfOrder(w.desk, order)
  handBack(w.desk, order, { borne_minor: total_minor, borne_reason: 'Our own mistake' })
  const html = await page(t, `/work-orders/${order}`, cookie)
  expect(html).toContain('Borne by us, tax included: Our own mistake')
  expect(html).toMatch(/To pay<\/dt><dd class="chief">€0\.00/)
})

describe('what stands first on it', () => {
  const lead = async (role: 'desk' | 'technician' = 'desk') => {
    const html = await page(t, address, t.cookie(role))
    const first = html.slice(html.indexOf('<div class="lead"'), html.indexOf('<nav class="screen-only"'))
    return first
      .replace(/<[^>]*>/g, ' ')
      .replace(/\s+/g, ' ')
      .trim()
  }

  test('is where it stands, what it waits for and the next act', async () => {
    expect(await lead()).toMatch(
      /^Taken in\. It waits for a job: none is written down yet\. No day was promised\. Add a job /,
    )
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bulb })
    expect(await lead()).toMatch(/^Taken in\. It waits for the customer’s yes\. .* Record the yes Hand back/)
    expect(await lead('technician')).not.toContain('Record the yes')
    w.agree(5000)
    expect(await lead()).toMatch(/^Agreed\. It waits for the work to begin\. .* To job A Hand back/)
    completeJob(w.technician, job.id, {})
    expect(await lead()).toMatch(/^Ready\. It waits for being fetched\. .* Hand back Put this order right$/)
    handBack(w.desk, w.order, {})
    expect(await lead()).toBe('Handed back on 3 March 2031. Invoice 2031-0001')
  })

  test('are links to its sections, and the form that is next is open', async () => {
    const html = await page(t, address, cookie)
    for (const id of ['jobs', 'talks', 'yes', 'found']) {
      expect(html).toContain(`href="#${id}"`)
      expect(html).toMatch(new RegExp(`<h2 id="${id}"[^>]* tabindex="-1"`))
    }
    expect(html).toContain('<details class="screen-only" id="add-job" open>')
    expect(html).toContain('<details class="screen-only" id="record-yes">')
    const refused = (await fill('/authorisations', { amount_minor: 'lots' })).reply
    expect(refused.body).toContain('<details class="screen-only" id="record-yes" open>')
  })

  test('after a form has been sent, its section is come back to', async () => {
    const job = (await fill('/jobs', { operation_id: w.operations.bulb })).reply
    const talk = (await fill('/talks', { said: 'Needs it early.', how: 'By telephone' })).reply
    const yes = (await fill('/authorisations', {})).reply
    expect([job, talk, yes].map(reply => reply.headers.location)).toEqual([
      `${address}#jobs`,
      `${address}#talks`,
      `${address}#yes`,
    ])
  })
})

test('an order and an invoice of one number are told apart', async () => {
  w.finish(w.order)
  const second = w.openOrder()
  const third = w.openOrder()
  w.finish(third)
  // order 2031-0002 is in the house, and invoice 2031-0002 is that of order 2031-0003
  const html = await page(t, '/?q=2031-0002', cookie)
  expect(html).toContain(`href="/work-orders/${second}"`)
  expect(html).toContain('Invoice 2031-0002')
  expect(html).toContain('On order 2031-0003, handed back')
  expect(await page(t, `/work-orders/${third}/invoice`, cookie)).toMatch(
    /number-of-sheet">Invoice <span[^>]*>2031-0002/,
  )
  expect(await page(t, `/work-orders/${third}`, cookie)).toMatch(/number-of-sheet">Order <span[^>]*>2031-0003/)
})

describe('the forms on its page', () => {
  test('add a job, from the catalogue or in own words', async () => {
    const { reply, fields } = await fill('/jobs', { operation_id: w.operations.bulb })
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `${address}#jobs`])
    expect(await page(t, address, cookie)).toContain('Added: A Rear lamp bulb: replace.')
    await sendForm(t, `${address}/jobs`, cookie, fields)
    await fill('/jobs', { task: 'Look for the rattle', hours: '0,5' })
    expect(jobsOfOrder(t.system, w.order).map(job => [job.letter, job.task, job.hours])).toEqual([
      ['A', 'Rear lamp bulb: replace', 0.2],
      ['B', 'Look for the rattle', 0.5],
    ])
    const refused = (await fill('/jobs', { task: 'Without hours' })).reply
    expect([refused.statusCode, refused.body.includes('A task needs its hours.')]).toEqual([422, true])
    expect(refused.body).toContain('value="Without hours"')
    expect(refused.body).toContain('href="#hours"')
  })

  test('write down a talk; what is missing comes back beside what was typed', async () => {
    const refused = (await fill('/talks', { with: 'Osk Brandl', promised: 'a price by noon' })).reply
    expect(refused.statusCode).toBe(422)
    for (const text of ['value="Osk Brandl"', 'value="a price by noon"', 'href="#said"', 'href="#how"'])
      expect(refused.body).toContain(text)
    expect((await fill('/talks', { said: 'Not to be driven.', how: 'At the desk' })).reply.statusCode).toBe(303)
    expect(talksOfOrder(t.system, w.order)).toMatchObject([
      { with: 'Bodil Farrow', how: 'At the desk', said: 'Not to be driven.' },
    ])
    expect(await page(t, address, cookie)).toContain('desk person and Bodil Farrow')
  })

  test('record a yes: the total and the customer stand there already', async () => {
    addJob(w.desk, w.order, { operation_id: w.operations.bulb })
    const refused = (await fill('/authorisations', { amount_minor: 'lots', said_by: 'Osk Brandl' })).reply
    expect(refused.statusCode).toBe(422)
    for (const text of ['value="lots"', 'value="Osk Brandl"', 'href="#amount-minor"'])
      expect(refused.body).toContain(text)
    expect((await fill('/authorisations', {})).reply.statusCode).toBe(303)
    expect(authorisationsOfOrder(t.system, w.order)).toMatchObject([
      { amount_minor: 1440, includes_tax: true, said_by: 'Bodil Farrow', how: 'in_person' },
    ])
    const technician = await sendForm(t, `${address}/authorisations`, t.cookie('technician'), [['_key', 'k']])
    expect(technician.statusCode).toBe(403)
  })

  test('every control has an id of its own', async () => {
    addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    const ids = [...(await page(t, address, cookie)).matchAll(/ id="([^"]*)"/g)].map(([, id]) => id)
    expect(ids.filter((id, place) => ids.indexOf(id) !== place)).toEqual([])
  })
})

describe('forms of a page of their own', () => {
  test('put the order right, unless somebody else did meanwhile', async () => {
    expect((await own('/edit', { place: 'bay 2', 'symptoms[1]': 'Rattle', _new: 'Rattle' })).reply.statusCode).toBe(303)
    expect(workOrderById(t.system, w.order)).toMatchObject({
      ...{ place: 'bay 2', version: 2, odometer_km: 143_720, symptoms: ['Hum from the rear', 'Rattle'] },
    })
    const stale = (await own('/edit', { place: 'bay 3', _version: '1' })).reply
    expect(stale.statusCode).toBe(412)
    expect(stale.body).toContain('value="bay 3"')
    expect((await own('/edit', { complaint: ' ' })).reply.statusCode).toBe(422)
    await page(t, `${address}/edit`, t.cookie('technician'), 403)
  })

  test('add a part to a job of this order', async () => {
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bulb })
    const typed = { job_id: job.id, part_id: w.part, cost_minor: '1.00', price_minor: '2.50', quantity: '2' }
    expect((await own('/part-lines', typed)).reply.statusCode).toBe(303)
    expect(await page(t, address, cookie)).toContain('2 × HB-204 Hub bearing, new')
    const elsewhere = addJob(w.desk, w.openOrder(), { operation_id: w.operations.bulb })
    const refused = (await own('/part-lines', { ...typed, job_id: elsewhere.id, batch: 'B-7' })).reply
    expect([refused.statusCode, refused.body.includes('value="B-7"')]).toEqual([422, true])
  })

  test('take a job off, unless a joint of it is begun', async () => {
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    w.tighten(job.joints[0]!.id, 1)
    const begun = (await own('/voiding', { job_id: job.id, reason: 'Not wanted' })).reply
    expect([begun.statusCode, begun.body.includes('value="Not wanted"')]).toEqual([409, true])
    const bulb = addJob(w.desk, w.order, { operation_id: w.operations.bulb })
    expect((await own('/voiding', { job_id: bulb.id, reason: 'Not wanted' })).reply.statusCode).toBe(303)
    expect(await page(t, address, cookie)).toContain('voided: not wanted')
  })

  test('the estimate begins with what the book says, leaves empty lines out, and is printed by version', async () => {
    addJob(w.desk, w.order, { operation_id: w.operations.boot })
    const more = { 'lines[2][text]': 'Grease', 'lines[2][quantity]': '1', 'lines[2][unit_minor]': '6.80' }
    const { reply } = await own('/estimate', { ...more, 'lines[1][quantity]': '1.5', discount_minor: '10' })
    expect(reply.statusCode).toBe(303)
    const [estimate] = estimatesOfOrder(t.system, w.order)
    expect(estimate).toMatchObject({ version: 1, discount_minor: 1000, net_minor: 12_280, gross_minor: 14_736 })
    expect(estimate!.lines.map(line => [line.kind, line.text, line.quantity, line.tax_bp])).toEqual([
      ['labour', 'A Axle shaft boot: replace', 0.6, 2000],
      ['labour', 'Strip-down, once', 1.5, 2000],
      ['labour', 'Grease', 1, 2000],
    ])
    expect(await page(t, `${address}/estimates/1`, cookie)).toContain('€147.36')
    await page(t, `${address}/estimates/2`, cookie, 404)
    const refused = (await own('/estimate', { 'lines[0][quantity]': 'some', 'lines[3][text]': 'Half a line' })).reply
    expect(refused.statusCode).toBe(422)
    for (const text of ['value="some"', 'value="Half a line"', 'href="#lines-0-quantity"', 'href="#lines-2-quantity"'])
      expect(refused.body).toContain(text)
  })
})

test('/work-orders lists them by state, page by page', async () => {
  w.finish(w.order)
  for (let n = 0; n < 51; n++) w.openOrder()
  const html = await page(t, '/work-orders?state=taken_in', cookie)
  expect(html).toContain('2031-0052<')
  expect(html).not.toContain('2031-0001<')
  expect(html).not.toContain('2031-0002<')
  const next = /href="([^"]*)" rel="next"/.exec(html)?.[1]?.replaceAll('&amp;', '&').replaceAll('&#x3D;', '=')
  expect(await page(t, next!, cookie)).toContain('2031-0002<')
  expect(await page(t, '/work-orders?state=ready', cookie)).toContain('No work order is ready.')
  expect(await page(t, '/work-orders?state=handed_back', cookie)).toContain('2031-0001<')
})

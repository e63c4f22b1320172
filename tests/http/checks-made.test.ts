import { beforeEach, describe, expect, test } from 'vitest'
import { createAccessStep, createComponent, createOperation } from '../../src/catalogue/index.ts'
import { lookResults, recordFinding } from '../../src/findings/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { addJob, jobById, openStep } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
const SYMPTOM = 'Hum from the rear'
const FAMILY = 'Corvane Haulette B'
let t: TestApp
let w: OrderWorld

/** Three causes of the hum: the tyre make safe, the disc with a caution behind the wheel, the bearing twice as likely. */
beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  const component = (name: string, minutes: number, more: object = {}) =>
    createComponent(w.owner, {
      ...{ name, severity: 'safety', causes: [SYMPTOM], check_minutes: minutes, access_step_ids: [] },
      ...more,
    })
  component('Tyre', 6, { makes_safe: true })
  component('Disc', 10, { access_step_ids: [w.wheel], caution: 'No road test before the brakes were looked at.' })
  component('Bearing', 12)
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const card = async (job: string) => read(await page(t, `/bench/jobs/${job}`, t.cookie('technician')))
const order = async () => read(await page(t, `/work-orders/${w.order}`, t.cookie('desk')))

/** What the record says of the symptom now: how often each cause was it, of how many. */
async function counts(more: object = {}): Promise<Record<string, string>> {
  const { body } = await scenario(t, {
    ...{ as: 'desk', post: '/api/analysis/first-checks', key: null, expect: 200 },
    body: { symptom: SYMPTOM, family: FAMILY, ...more },
  })
  return Object.fromEntries(
    body.checks.map((check: { component: string; n: number; of: number }) => [
      check.component,
      `${check.n} of ${check.of}`,
    ]),
  )
}

const check = (body: object, expected: number, fields?: string[]) =>
  scenario(t, {
    ...{ as: 'technician', post: `/api/work-orders/${w.order}/checks`, body, expect: expected },
    ...(fields && { fields }),
  })

describe('what to check first', () => {
  test('stands on the work order for the desk and on the job card for the technician, with its cautions', async () => {
    const job = w.add('bulb')
    for (const text of [await order(), await card(job.id)]) {
      expect(text).toContain('What to check first')
      expect(text).toContain('Caution Disc: No road test before the brakes were looked at.')
      // makes safe first; then Bearing 12 minutes; the disc takes the wheel off, 18, and 10
      expect(text).toMatch(
        /1 Tyre makes it safe, so it comes first 33 % none here 6 0:06 .*2 Bearing 33 % none here 12 0:18 .*Wheel off strip-down: what follows may be behind it 18 0:36 3 Disc 33 % none here 10 0:46/,
      )
      expect(text).toContain('In this order the cause is expected after 23 minutes')
    }
    expect(await card(job.id)).toMatch(/Tyre .* Fine Tyre Say what I see Tyre/)
  })

  test('fine at a check rules it out on this stay, and counts as a look that found nothing', async () => {
    const job = w.add('bulb')
    const cookie = t.cookie('technician', 'Tobin Rask')
    const html = await page(t, `/bench/jobs/${job.id}`, cookie)
    const fields = formFields(html, `/bench/jobs/${job.id}/checks`)
    expect(fields).toMatchObject({ component: 'Tyre', symptom: SYMPTOM })
    const reply = await sendForm(t, `/bench/jobs/${job.id}/checks`, cookie, Object.entries(fields))
    expect(reply.statusCode).toBe(303)
    const text = await card(job.id)
    expect(text).toContain('Looked at so far: Tyre fine (08:00, Tobin Rask).')
    // the other two share what it had: a half each
    expect(text).toMatch(/1 Bearing 50 % none here 12 0:12 /)
    expect(await order()).toContain('Looked at so far: Tyre fine (3 Mar 2031, 08:00, Tobin Rask).')
    // nothing else moves: another stay with the symptom begins with all three
    expect(await counts()).toEqual({ Bearing: '0 of 0', Disc: '0 of 0', Tyre: '0 of 0' })
    expect(await counts({ found_fine: ['Tyre'] })).toEqual({ Bearing: '0 of 0', Disc: '0 of 0' })
    // a job in words of its own is not done because something was looked at
    expect(jobById(t.system, job.id).looks).toEqual([])
  })

  test('what is found at a check is the cause from then on: on this stay nothing more is asked, on the next it counts', async () => {
    const job = w.add('bulb')
    const form = `/bench/jobs/${job.id}/finding`
    const asked = `${form}?${new URLSearchParams({ component: 'Bearing', symptom: SYMPTOM })}`
    const cookie = t.cookie('technician')
    const typed = { failure_mode: 'worn', severity: 'safety', advice: 'not_on_the_road', _new: 'worn' }
    const { reply, fields } = await fillIn(t, cookie, form, typed, asked)
    expect(reply.statusCode).toBe(303)
    expect(Object.fromEntries(fields)).toMatchObject({ component: 'Bearing', symptom: SYMPTOM, at_check: 'true' })
    expect(await card(job.id)).not.toContain('What to check first')
    expect(await order()).toContain('Looked at so far: Bearing not fine')
    expect(await counts()).toEqual({ Bearing: '1 of 1', Disc: '0 of 1', Tyre: '0 of 1' })
    const { body } = await scenario(t, { as: 'desk', get: `/api/work-orders/${w.order}/checks`, expect: 200 })
    expect(body.items).toMatchObject([{ component: 'Bearing', symptom: SYMPTOM, fine: false }])
  })

  test('a finding of something else keeps the checks, and a step that is open takes no time', async () => {
    const job = w.add('boot')
    recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, job_id: job.id, component: 'Hub seal', severity: 'nuisance', found_on: '2031-03-03' },
    })
    openStep(w.technician, job.id, w.wheel, {})
    // behind the open wheel the disc costs 10 minutes and comes before the bearing's 12
    expect(await order()).toMatch(/1 Tyre .* 2 Disc 33 % none here 10 0:16 3 Bearing 33 % none here 12 0:28/)
  })

  test('a look that the plan asks for has its outcome with the check, once its step is open', async () => {
    const job = w.add('bearing')
    await check({ component: 'Brake hose', fine: true }, 201)
    const looks = job.looks.map(look => look.id)
    expect(lookResults(t.system, looks).size).toBe(0)
    w.open(job, w.wheel, w.carrier)
    await check({ component: 'Brake hose', fine: true }, 201)
    expect([...lookResults(t.system, looks).values()]).toMatchObject([{ fine: true }])
    await check({ component: 'Brake hose', fine: true }, 201)
  })

  test('refuses two outcomes, none, unknown names, and a finding that is another’s', async () => {
    const finding = recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Tyre', severity: 'nuisance', found_on: '2031-03-03' },
    }).id
    await check({ component: 'Tyre', fine: true, finding_id: finding }, 422)
    await check({ component: 'Tyre' }, 422)
    await check({ component: 'Tyre', fine: false }, 422)
    await check({ component: 'Nothing', symptom: 'Nothing', fine: true }, 422, ['/component', '/symptom'])
    await check({ component: 'Bearing', finding_id: finding }, 422, ['/finding_id'])
    await check({ component: 'Tyre', finding_id: finding }, 201)
    await scenario(t, {
      ...{ as: 'desk', post: `/api/work-orders/${w.order}/checks`, body: { component: 'Tyre', fine: true } },
      expect: 403,
    })
    await scenario(t, {
      ...{ as: 'technician', post: '/api/work-orders/none/checks', body: { component: 'Tyre', fine: true } },
      expect: 404,
    })
  })
})

describe('while it is open', () => {
  const open = async (more: object = {}) => {
    const { body } = await scenario(t, {
      ...{ as: 'desk', post: '/api/analysis/while-open', key: null, expect: 200 },
      body: { family: FAMILY, operations: ['Lid: seal'], ...more },
    })
    return body.looks.find((look: { component: string }) => look.component === 'Tyre')
  }

  beforeEach(() => {
    const lid = createAccessStep(w.owner, { name: 'Lid off', hours: 2, needs: [], exposes: ['Tyre'], disturbs: [] }).id
    const parts = { joints: [], looks: [], final_checks: [] }
    createOperation(w.owner, { name: 'Lid: seal', hours: 1, access_step_ids: [lid], ...parts })
  })

  test('a check counts as a look, once a stay, and bad when anybody found it so', async () => {
    expect(await open()).toMatchObject({ n_looked: 0, n_bad: 0, n_looked_all: 0, borrows: true, counted_on: 'family' })
    await check({ component: 'Tyre', fine: true }, 201)
    await check({ component: 'Tyre', fine: true }, 201)
    expect(await open()).toMatchObject({ n_looked: 1, n_bad: 0, n_looked_all: 1, n_bad_all: 0 })
    const finding = recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Tyre', severity: 'safety', found_on: '2031-03-03' },
    }).id
    await check({ component: 'Tyre', finding_id: finding }, 201)
    const looked = await open()
    expect(looked).toMatchObject({ n_looked: 1, n_bad: 1 })
    // Beta(½ + 1 + 4·p, ½ + 4·(1 − p)), p = (½ + 1)/2
    expect(looked.chance).toBeCloseTo((0.5 + 1 + 4 * 0.75) / 6, 12)
  })

  test('the order says whose numbers are borrowed, and the job card takes the outcome in one tap', async () => {
    const job = addJob(w.desk, w.order, {
      operation_id: t.system.store.raw
        .prepare("select id from operations where name = 'Lid: seal'")
        .pluck()
        .get() as string,
    })
    expect(await order()).toMatch(/Tyre nobody has looked yet: an even chance 0 of 0 50 %/)
    expect(await card(job.id)).toMatch(
      /Tyre nobody has looked yet: an even chance 0 of 0 50 % .*Always look safety Fine Tyre/,
    )
    await check({ component: 'Tyre', fine: true }, 201)
    expect(await card(job.id)).toContain('looked at: fine')
    importRows(t.system, [{ vehicle: 'X', family: 'Pikko', date: '2030-01-01', event: 'in_service' }])
    const vehicle_id = t.system.store.raw
      .prepare("select id from vehicles where imported_as = 'X'")
      .pluck()
      .get() as string
    const second = w.openOrder({ vehicle_id })
    addJob(w.desk, second, { operation_id: jobById(t.system, job.id).operation_id! })
    expect(read(await page(t, `/work-orders/${second}`, t.cookie('desk')))).toMatch(
      /Tyre from all families: 0 of 1 0 of 0 /,
    )
  })

  test('a variant with ten looks of its own stands for itself; with fewer the family does', async () => {
    const stay = async (variant: string, fine: boolean) => {
      const { id } = createVehicle(w.desk, { family: FAMILY, variant, odometer_unit: 'km' })
      const place = w.openOrder({ vehicle_id: id })
      const outcome = fine
        ? { fine: true }
        : {
            finding_id: recordFinding(w.technician, {
              ...{ vehicle_id: id, component: 'Tyre', severity: 'safety', found_on: '2031-03-03' },
            }).id,
          }
      await scenario(t, {
        ...{ as: 'technician', post: `/api/work-orders/${place}/checks`, expect: 201 },
        body: { component: 'Tyre', ...outcome },
      })
    }
    for (let number = 0; number < 9; number += 1) await stay('long', number > 2)
    for (let number = 0; number < 3; number += 1) await stay('short', true)
    expect(await open({ variant: 'long' })).toMatchObject({
      n_looked: 12,
      n_bad: 3,
      counted_on: 'family',
      borrows: false,
    })
    await stay('long', true)
    const long = await open({ variant: 'Long' })
    expect(long).toMatchObject({ n_looked: 10, n_bad: 3, counted_on: 'variant', borrows: false, n_looked_all: 13 })
    expect(long.chance).toBeCloseTo(3.5 / 11, 12)
    expect(await open({ variant: 'short' })).toMatchObject({ n_looked: 13, n_bad: 3, counted_on: 'family' })
    await scenario(t, {
      ...{ as: 'desk', post: '/api/analysis/while-open', key: null, expect: 422, fields: ['/variant'] },
      body: { family: FAMILY, variant: 'None', operations: ['Lid: seal'] },
    })
  })
})

describe('/recurring/first-checks', () => {
  test('asks without a work order: symptom, family and month in, the order out', async () => {
    const failure = (date: string, component: string, vehicle: string) => ({
      ...{ vehicle, family: 'Pikko', date, event: 'failure', component, symptom: SYMPTOM },
    })
    importRows(t.system, [
      failure('2030-01-10', 'Bearing', '1'),
      failure('2030-02-10', 'Bearing', '2'),
      failure('2030-07-10', 'Tyre', '3'),
    ])
    const ask = async (query: string) => read(await page(t, `/recurring/first-checks?${query}`, t.cookie('desk')))
    expect(await ask('')).toContain('For which trouble')
    const symptom = encodeURIComponent(SYMPTOM)
    const winter = await ask(`symptom=${symptom}&family=Pikko&season_month=1`)
    expect(winter).toContain('around January')
    expect(winter).toContain('Caution Disc: No road test before the brakes were looked at.')
    expect(winter).toMatch(/1 Tyre makes it safe, so it comes first \d+ % 0 of 2 6 0:06 2 Bearing \d+ % 2 of 2 12 0:18/)
    expect(await ask(`symptom=${symptom}&family=Pikko`)).toMatch(/2 Bearing \d+ % 2 of 3/)
    expect(await ask(`symptom=${symptom}`)).not.toContain('In this order')
    const refused = await t.app.inject({
      url: `/recurring/first-checks?symptom=Nothing&family=None`,
      headers: { cookie: t.cookie('desk') },
    })
    expect(refused.statusCode).toBe(422)
    for (const text of ['href="#symptom"', 'href="#family"', 'Put the checks in order'])
      expect(refused.body).toContain(text)
  })
})

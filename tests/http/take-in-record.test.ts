import { beforeEach, describe, expect, test } from 'vitest'
import { odometerReadings } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let cookie: string

/** The bulb was replaced for a hum from the rear, and the vehicle left; 41 days later it stands there again. */
beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  w.finish(w.order)
  t.clock.set(t.clock.now() + 41 * 86_400_000)
  cookie = t.cookie('desk')
})

const textOf = (html: string) =>
  html
    .replace(/<[^>]*>/g, ' ')
    .replaceAll('\u00a0', ' ')
    .replace(/\s+/g, ' ')

/** The form as it is typed so far, asked what the record says of it. */
async function typed(fields: Record<string, string>, button: Record<string, string> = { _again: 'record' }) {
  const html = await page(t, `/take-in?vehicle=${w.vehicle}`, cookie)
  const shown = formFields(html.slice(html.indexOf('<form action="/take-in" method="post"')), '/take-in')
  return sendForm(t, '/take-in', cookie, Object.entries({ ...shown, ...fields, ...button }))
}

describe('before there is an order', () => {
  test('what may be ours come back is said as soon as the symptom is typed, and nothing is written', async () => {
    expect(await page(t, `/take-in?vehicle=${w.vehicle}`, cookie)).not.toContain('Ours, back?')
    const events = t.eventCount()
    const reply = await typed({ 'symptoms[0]': 'hum from the rear', complaint: 'It hums again.' })
    expect(reply.statusCode).toBe(200)
    const text = textOf(reply.body)
    expect(text).toContain(
      'Ours, back? Comes in 41 days after “Rear lamp bulb: replace” (work order 2031-0001); still under',
    )
    expect(text).toContain('The same symptom: Hum from the rear. The earlier work')
    expect(text).not.toMatch(/were comebacks|interval|q ≤/)
    expect(reply.body).toContain('It hums again.</textarea>')
    expect(reply.body).toContain('value="hum from the rear"')
    expect([reply.body.includes('error-summary'), t.eventCount()]).toEqual([false, events])
    expect(textOf((await typed({ 'symptoms[0]': 'Something else' })).body)).not.toContain('Ours, back?')
  })

  test('the same is said when the form comes back to be put right, and the order says it once it is there', async () => {
    const refused = await typed({ 'symptoms[0]': 'Hum from the rear' }, {})
    expect([refused.statusCode, refused.body.includes('Ours, back?')]).toEqual([422, true])
    const who = {
      complaint: 'It hums.',
      customer_id: w.customer,
      odometer: '144000',
      'symptoms[0]': 'Hum from the rear',
    }
    const { headers } = await typed(who, {})
    expect(textOf(await page(t, String(headers.location), cookie))).toContain(
      'Ours, back? Came in 41 days after “Rear lamp bulb: replace” (work order 2031-0001); still under',
    )
    expect(await w.suspicions()).toHaveLength(1)
  })

  test('an odometer that is lower, or absurd, is said at once and kept', async () => {
    expect(textOf((await typed({ odometer: '144 100' })).body)).not.toContain('The odometer:')
    const low = await typed({ odometer: '14 372' })
    expect(textOf(low.body)).toContain('The odometer: 14 372 km is lower than the 143 720 km of 3 March 2031.')
    const high = await typed({ odometer: '1 437 900' })
    expect(textOf(high.body)).toMatch(/The odometer: 1 294 180 km in 41 days since 3 March 2031, .*Read it again\./)
    const { headers } = await typed({ odometer: '1 437 900', complaint: 'It hums.', customer_id: w.customer }, {})
    expect(textOf(await page(t, String(headers.location), cookie))).toContain('1 294 180 km in 41 days')
    expect(odometerReadings(t.system, w.vehicle).at(-1)?.distance_km).toBe(1_437_900)
  })

  test('what to check first stands there as soon as a symptom is typed', async () => {
    await scenario(t, {
      ...{ as: 'owner', post: '/api/components', expect: 201 },
      body: { name: 'Tyre', severity: 'safety', causes: ['Hum from the rear'], check_minutes: 6, access_step_ids: [] },
    })
    expect((await typed({})).body).not.toContain('What to check first')
    expect(textOf((await typed({ 'symptoms[0]': 'Hum from the rear' })).body)).toMatch(/What to check first .* 1 Tyre/)
  })
})

test('a reading lower than one of an imported history is odd, too', async () => {
  importRows(t.system, [
    { vehicle: 'V1', family: 'Corvane Haulette B', date: '2030-01-01', event: 'seen', distance: 50_000 },
  ])
  const id = t.deps.store.raw.prepare("select id from vehicles where imported_as = 'V1'").pluck().get() as string
  const { body } = await scenario(t, {
    ...{ as: 'desk', post: `/api/vehicles/${id}/odometer-readings`, expect: 201 },
    body: { on: '2031-04-01', distance_km: 5_000 },
  })
  expect(body.warnings).toMatchObject([{ field: 'distance_km', detail: expect.stringContaining('1 January 2030') }])
})

import { beforeEach, describe, expect, test } from 'vitest'
import { leftForLaterOn, notePriorWork, priorWorksOf, recordFinding } from '../../src/findings/index.ts'
import { createVehicle, odometerReadings, recordOdometer, updateVehicle } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let cookie: string
let address: string

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  cookie = t.cookie('desk')
  address = `/vehicles/${w.vehicle}`
})

/** The words of a page, as somebody reads them. */
const words = async (url = address) =>
  (await page(t, url, cookie)).replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')

describe('/vehicles/{id}', () => {
  test('draws what is dated, and lists what nobody can date', async () => {
    notePriorWork(w.desk, w.vehicle, { operation: 'Tow bar wiring', by: 'unknown', exactness: 'unknown' })
    notePriorWork(w.desk, w.vehicle, { operation: 'Boot: replace', by: 'other', on: '2029-02-12', exactness: 'month' })
    const job = w.finish(w.order)
    recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Rear hub', severity: 'safety', found_on: '2031-03-04' },
      caused_by: { job_id: job },
    })
    const html = await page(t, address, cookie)
    const drawing = html.slice(html.indexOf('<figure>'), html.indexOf('</figure>'))
    expect(drawing).toContain('Life of QH 418 TK by date and by distance')
    expect(drawing).not.toContain('Tow bar')
    expect(drawing).toContain('A solid arc joins 2 to 3.')
    const said = await words()
    expect(said).toContain('4 events')
    expect(said).toContain('3 4 Mar 2031 – us Rear hub: found caused by 2, says a finding')
    expect(said).toContain('2 3 Mar 2031 143 720 km us Rear lamp bulb: replace, 2031-0001 followed by 3')
    expect(said).toContain('1 Feb 2029 – another workshop Boot: replace nothing known')
    expect(said).toContain('– date unknown – somebody unknown Tow bar wiring cannot be placed on the line')
  })

  test('says how it is driven, what its number says, and what is still promised', async () => {
    updateVehicle(t.system, w.vehicle, 1, { vin: '1M8GDM9AXKP042788', keeper_id: w.customer })
    recordOdometer(w.desk, w.vehicle, { on: '2030-03-03', distance_km: 134_720 })
    w.finish(w.order)
    const said = await words()
    expect(said).toContain('143 720 km')
    // 9000 km in 365 days
    expect(said).toContain('9 010 km a year, 750 km a month, from two readings')
    expect(said).toContain('150 000 km about 13 November 2031')
    expect(said).toContain('1M8GDM9AXKP042788: the form is right; check digit X fits')
    expect(said).toContain('Model year 1989; 2019 for what is no car or light vehicle')
    expect(said).toContain('Rear lamp bulb: replace, to 2 March 2032 or 163 720 km, whichever comes first, 2031-0001')
    expect(said).toContain('Bodil Farrow')
  })

  test('tells an imported life, with its comebacks', async () => {
    importRows(t.system, [
      { vehicle: 'K-1', family: 'Corvane', date: '2028-05-17', distance: '0', event: 'in_service' },
      {
        vehicle: 'K-1',
        family: 'Corvane',
        date: '2030-07-09',
        distance: '99700',
        event: 'work',
        by: 'us',
        operation: 'Belt',
        id: 'a',
      },
      {
        ...{ vehicle: 'K-1', family: 'Corvane', date: '2030-08-09', distance: '101000', event: 'failure' },
        ...{ component: 'Belt', failure_mode: 'torn', comeback_of: 'a' },
      },
    ])
    const id = t.deps.store.raw.prepare("select id from vehicles where imported_as = 'K-1'").pluck().get()
    const said = await words(`/vehicles/${id}`)
    expect(said).toContain('3 9 Aug 2030 101 000 km – Belt: torn: found comeback of 2')
    expect(said).toContain('in service 17 May 2028')
  })

  test('draws a confirmed comeback as a solid arc, and names those that are decided and those that are not', async () => {
    const earlier_job_id = w.finish(w.order)
    const stay = w.later(30)
    cookie = t.cookie('desk')
    const suspected = await words()
    expect(suspected).toContain(
      'Suspected Came in 30 days after “Rear lamp bulb: replace” (work order 2031-0001). The same symptom: Hum from the rear.',
    )
    const href = `/comebacks/${earlier_job_id}/${stay}`
    expect(await page(t, address, cookie)).toContain('<a href="/comebacks">Not decided yet</a>')
    expect(await page(t, address, t.cookie('owner'))).toContain(`<a href="${href}">Not decided yet</a>`)
    const root_cause = ['The bulb worked loose', 'Its holder was bent']
    const decided = await w.decide({ earlier_job_id, later_work_order_id: stay, borne_by: 'us', root_cause })
    const said =
      'Comeback Came in on 2 Apr 2031 ( 2031-0002 ) 30 days after “Rear lamp bulb: replace” ( 2031-0001 ): a comeback of it. The bulb worked loose; Its holder was bent. 2 Apr 2031, owner token. The decision'
    expect(await words()).toContain(said)
    // nothing is dated on the later stay yet: there is no place for an arc to end
    expect(await page(t, address, cookie)).not.toContain('A solid arc joins')
    recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Rear hub', severity: 'nuisance', found_on: '2031-04-02' },
    })
    const html = await page(t, address, t.cookie('owner'))
    expect(html).toContain('A solid arc joins 1 to 2.')
    expect(html).toContain(`comeback of 1, <a href="${href}">confirmed</a>`)
    await w.decide({
      ...{ earlier_job_id, later_work_order_id: stay, decision: 'ruled_out' },
      ...{ why: 'Another lamp.', supersedes: decided.id },
    })
    expect(await words()).toContain('): no comeback of it. Another lamp. 2 Apr 2031, owner token.')
    expect(await page(t, address, cookie)).not.toContain('A solid arc joins')
  })

  test('places on the line of distance what nobody read, flags what runs backwards, and goes on after a new display', async () => {
    const { id } = createVehicle(t.system, { family: 'Ardeck', odometer_unit: 'km' })
    const reading = (on: string, distance_km: number, display_replaced = false) =>
      recordOdometer(w.desk, id, { on, distance_km, display_replaced })
    reading('2029-01-01', 10_000)
    reading('2029-12-27', 28_000)
    reading('2030-02-01', 2800)
    reading('2030-06-01', 30_000)
    reading('2030-08-01', 0, true)
    reading('2031-01-01', 5000)
    const prior = { operation: 'Belt: renew', by: 'other', exactness: 'day' } as const
    notePriorWork(w.desk, id, { ...prior, on: '2029-06-30' })
    notePriorWork(w.desk, id, { ...prior, on: '2028-06-30' })
    recordFinding(w.technician, { vehicle_id: id, component: 'Rear hub', severity: 'nuisance', found_on: '2031-01-01' })
    const said = await words(`/vehicles/${id}`)
    // 180 of 360 days from 10 000 to 28 000
    expect(said).toContain('2 30 Jun 2029 about 19 000 km another workshop Belt: renew')
    expect(said).toContain('1 30 Jun 2028 – another workshop Belt: renew')
    expect(said).toMatch(/1 Feb 2030 2 800 km – Odometer read lower than a reading before it: read again/)
    expect(said.match(/lower than a reading before it/g)).toHaveLength(1)
    expect(said).toContain('An instrument was replaced: the lower line counts on from what the old one showed last')
    // the failure stands at 35 000 on the line, and is told as it was read
    expect(said).toContain('3 1 Jan 2031 5 000 km us Rear hub: found')
    expect(said).toContain('2 Belt: renew others, about 19 000 km')
  })

  test('is there before anything is known, and 404 for none', async () => {
    const { id } = createVehicle(t.system, { family: 'Ardeck', odometer_unit: 'km' })
    const said = await words(`/vehicles/${id}`)
    expect(said).toContain('never read')
    expect(said).toContain('Nothing is known of it yet.')
    await page(t, '/vehicles/none', cookie, 404)
    expect(await page(t, address, t.cookie('technician'))).not.toContain('Another keeper')
  })
})

describe('what is added to its life', () => {
  test('a reading in the unit of its odometer, with what is odd about it', async () => {
    const { id } = createVehicle(t.system, { family: 'Ardeck', odometer_unit: 'mi' })
    const form = `/vehicles/${id}/odometer`
    expect((await fillIn(t, cookie, form, { odometer: '100' })).reply.statusCode).toBe(303)
    expect(odometerReadings(t.system, id)).toMatchObject([{ on: '2031-03-03', distance_km: 160.9344 }])
    await fillIn(t, cookie, form, { odometer: '90' })
    expect(await page(t, `/vehicles/${id}`, cookie)).toContain('is lower than the')
    const early = (await fillIn(t, cookie, form, { odometer: '120', on: '2031-03-04' })).reply
    expect([early.statusCode, early.body.includes('That day has not come yet.')]).toEqual([422, true])
    expect(early.body).toContain('value="120"')
  })

  test('work by others, with a date as rough as it is known', async () => {
    const form = `${address}/prior-work`
    const typed = { operation: 'Clutch: renew', by: 'owner', evidence: 'Fresh sealant', _new: 'Clutch: renew' }
    for (const when of ['2029', '2029-02', '2029-02-12', '']) {
      expect((await fillIn(t, cookie, form, { ...typed, when })).reply.statusCode).toBe(303)
    }
    expect(priorWorksOf(t.system, w.vehicle).map(work => [work.exactness, work.on])).toEqual(
      expect.arrayContaining([
        ['year', '2029-07-01'],
        ['month', '2029-02-15'],
        ['day', '2029-02-12'],
        ['unknown', undefined],
      ]),
    )
    const refused = (await fillIn(t, cookie, form, { ...typed, when: '2029-02-30' })).reply
    expect(refused.statusCode).toBe(422)
    for (const text of ['href="#when"', 'value="2029-02-30"', 'value="Fresh sealant"'])
      expect(refused.body).toContain(text)
    for (const when of ['2032', '2031-04', '0026']) {
      const { reply } = await fillIn(t, cookie, form, { ...typed, when })
      expect([reply.statusCode, reply.body.includes('href="#when"')]).toEqual([422, true])
    }
  })

  test('something left for later, with its price', async () => {
    const form = `${address}/left-for-later`
    await fillIn(t, cookie, form, { text: 'Hub seal: replace', amount_minor: '268.80' })
    expect(leftForLaterOn(t.system, w.vehicle)).toMatchObject([{ text: 'Hub seal: replace', amount_minor: 26_880 }])
    expect(await words()).toContain('Hub seal: replace; 3 Mar 2031, priced then at €268.80')
    expect((await fillIn(t, cookie, form, { amount_minor: '5' })).reply.statusCode).toBe(422)
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { settleDoubt } from '../../src/fastening/index.ts'
import { leaveForLater, recordFinding, settleLeftForLater } from '../../src/findings/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { addJob, addPartLine, completeJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

/** Eight in the morning of a day of 2031. */
const day = (month: number, date: number) => Date.UTC(2031, month - 1, date, 8)

/**
 * Two months of a small workshop, worked out by hand. Labour 60.00 an hour to the customer, 40.00 to us; tax 20 %; warranty
 * 365 days, so every job is still within its window.
 *
 *  3 March  van, "bulb" 0.2 h and a part of 50.00 (30.00 to us): 12.00 + 50.00 = 62.00 net, 74.40 with tax
 * 10 March  moped, "chain" 1.5 h: 90.00 net, 108.00 with tax
 * 20 March  the van is back with the same symptom, 17 days after; confirmed on the 25th
 *  2 April  the van leaves: the same bulb and part, 62.00 net, 74.40 with tax, all of it borne by us
 * 15 April  the moped is back with the same symptom, 36 days after; nobody decides in April
 */
function twoMonths(t: TestApp, w: ComebackWorld) {
  const bulb = (order: string) => {
    const job = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    const more = { batch: '30-772', condition: 'new', cost_minor: 3000, price_minor: 5000 } as const
    addPartLine(w.desk, job, { part_id: w.part, quantity: 1, ...more })
    completeJob(w.technician, job, {})
    return job
  }
  const first = bulb(w.order)
  w.giveBack(w.order)

  t.clock.set(day(3, 10))
  const moped = createVehicle(w.desk, { family: 'Pikko Tramp 125', plate: 'QH 77', odometer_unit: 'km' }).id
  const mopedOrder = w.openOrder({ vehicle_id: moped, symptoms: ['Chain slaps'] })
  const second = addJob(w.desk, mopedOrder, { task: 'Chain: set tension', hours: 1.5 }).id
  completeJob(w.technician, second, {})
  w.giveBack(mopedOrder)

  t.clock.set(day(3, 20))
  const back = w.openOrder()
  bulb(back)
  return {
    ...{ first, second, moped, back },
    confirm: { earlier_job_id: first, later_work_order_id: back, category: 'part', borne_by: 'us' },
    /** The rest of the story, to the first of May. */
    async goOn() {
      t.clock.set(day(3, 25))
      const decision = await w.decide(this.confirm)
      t.clock.set(day(4, 2))
      handBack(w.desk, back, { borne_minor: 7440, borne_reason: 'It was our bulb.' })
      t.clock.set(day(4, 15))
      const mopedBack = w.openOrder({ vehicle_id: moped, symptoms: ['Chain slaps'] })
      t.clock.set(day(5, 1))
      return { decision, mopedBack }
    },
  }
}

describe('GET /api/month-reviews/{YYYY-MM}', () => {
  let t: TestApp
  let w: ComebackWorld

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
  })

  async function review(month: string, query = '') {
    return (await scenario(t, { as: 'technician', get: `/api/month-reviews/${month}${query}`, expect: 200 })).body
  }

  test('March as known on its last day: two jobs, one of them back and still here', async () => {
    const story = twoMonths(t, w)
    await story.goOn()
    const { month, as_known_on, issued_at, figures } = await review('2031-03')
    expect({ month, as_known_on, issued_at }).toEqual({ month: '2031-03', as_known_on: '2031-03-31' })
    // 0.2 h + 1.5 h; 62.00 + 90.00 net, of which 20 % are 12.40 + 18.00
    expect(figures).toMatchObject({ jobs: 2, imported_jobs: 0, vehicles: 2, book_hours: 1.7, jobs_without_hours: 0 })
    expect(figures.charges).toEqual({
      invoices: 2,
      net_minor: 15_200,
      tax: [{ tax_bp: 2000, net_minor: 15_200, tax_minor: 3040 }],
      gross_minor: 18_240,
      borne_minor: 0,
    })
    expect(figures.comebacks).toMatchObject({
      jobs_came_back: 1,
      before: { months: 0, jobs_came_back: 0 },
      cost_minor: null,
      cost_not_known: 1,
      ruled_out: [],
      waiting: [],
    })
    expect(figures.comebacks.confirmed).toEqual([
      {
        vehicle_id: w.vehicle,
        vehicle: 'QH 418 TK',
        family: 'Corvane Haulette B',
        symptoms: ['Hum from the rear'],
        earlier_job_id: story.first,
        earlier_task: 'Rear lamp bulb: replace',
        earlier_order: { id: w.order, number: '2031-0001' },
        earlier_handed_back_on: '2031-03-03',
        later_order: { id: story.back, number: '2031-0003' },
        came_in_on: '2031-03-20',
        days_after: 17,
        decided_by: 'owner token',
        why: 'The belt was set too tight.',
        category: 'part',
        root_cause: [],
        borne_by: 'us',
        is_first: true,
        cost: null,
        cost_missing: 'still_here',
      },
    ])
    // nothing is through its 365 days: no rate, and both jobs stand beside it
    expect(figures.rates.months.map(({ key }: { key: string }) => key)).toEqual([
      ...['2030-03', '2030-04', '2030-05', '2030-06', '2030-07', '2030-08', '2030-09', '2030-10', '2030-11', '2030-12'],
      ...['2031-01', '2031-02', '2031-03'],
    ])
    expect(figures.rates.months[12]).toMatchObject({ jobs: 0, rate: null, still_open: { jobs: 2, comebacks: 1 } })
    expect(figures.rates.year).toEqual({ jobs: 0, comebacks: 0, rate: null, lower: null, upper: null })
    // Nelson–Aalen: 1 claim of 2 at risk on day 17, flat beyond; the one open job is past it, at 21 days
    expect(figures.warranty).toMatchObject({
      jobs: 1,
      foretold: { expected_claims: 0, claims: { p05: 0, p50: 0, p95: 0 }, expected_cost_minor: 0 },
    })
  })

  test('March as known once the van had left: what the return cost', async () => {
    await twoMonths(t, w).goOn()
    const { as_known_on, figures } = await review('2031-03', '?as_of=2031-04-02')
    expect(as_known_on).toBe('2031-04-02')
    expect(figures.jobs).toBe(2)
    // 0.2 h × 40.00 + one part at 30.00
    const cost = { hours_not_billed: 0.2, labour_minor: 800, parts_minor: 3000, goodwill_minor: 0, total_minor: 3800 }
    expect(figures.comebacks).toMatchObject({ cost_minor: 3800, cost_not_known: 0 })
    expect(figures.comebacks.confirmed).toMatchObject([{ cost, cost_missing: null }])
    // the job of that day is open at age 0: q = 1 − exp(−½) = 0.39347; O/E is 2 of ½ and 0 of ½, so A = 1 − 1/½ < 0, m = 1
    expect(figures.warranty.jobs).toBe(2)
    expect(figures.warranty.foretold.expected_claims).toBeCloseTo(1 - Math.exp(-0.5), 12)
    expect(figures.warranty.foretold.claims).toEqual({ p05: 0, p50: 0, p95: 1 })
    // one claim of 38.00 was seen, and every operation's mean is that or drawn to it
    expect(figures.warranty.foretold.expected_cost_minor).toBe(Math.round(3800 * (1 - Math.exp(-0.5))))
  })

  test('April: a job at our expense, one stay to decide, and March to compare with', async () => {
    const story = twoMonths(t, w)
    const { mopedBack } = await story.goOn()
    const { as_known_on, figures } = await review('2031-04')
    expect(as_known_on).toBe('2031-04-30')
    expect(figures).toMatchObject({ jobs: 1, vehicles: 1, book_hours: 0.2 })
    expect(figures.charges).toEqual({
      invoices: 1,
      net_minor: 0,
      tax: [{ tax_bp: 2000, net_minor: 0, tax_minor: 0 }],
      gross_minor: 0,
      borne_minor: 7440,
    })
    expect(figures.comebacks).toMatchObject({
      jobs_came_back: 0,
      before: { months: 1, jobs_came_back: 1 },
      cost_minor: 0,
      cost_not_known: 0,
      confirmed: [],
      ruled_out: [],
      waiting: [
        {
          earlier_job_id: story.second,
          earlier_task: 'Chain: set tension',
          later_order: { id: mopedBack },
          came_in_on: '2031-04-15',
          days_after: 36,
          symptoms: ['Chain slaps'],
          reasons: ['same_symptom'],
        },
      ],
    })
    expect((await review('2031-04', '?as_of=2031-04-10')).figures.comebacks.waiting).toEqual([])
  })

  test('a decision counts from the day on which it was made, and a changed mind too', async () => {
    const story = twoMonths(t, w)
    const { decision, mopedBack } = await story.goOn()
    t.clock.set(day(5, 5))
    await w.decide({
      earlier_job_id: story.second,
      later_work_order_id: mopedBack,
      decision: 'ruled_out',
      why: 'A kerb.',
    })
    await w.decide({ ...story.confirm, decision: 'ruled_out', supersedes: decision.id })
    const counts = async (month: string, query = '') => {
      const { confirmed, ruled_out, waiting, jobs_came_back } = (await review(month, query)).figures.comebacks
      return [confirmed.length, ruled_out.length, waiting.length, jobs_came_back]
    }
    expect(await counts('2031-03')).toEqual([1, 0, 0, 1])
    expect(await counts('2031-03', '?as_of=2031-03-24')).toEqual([0, 0, 1, 0])
    expect(await counts('2031-03', '?as_of=2031-05-05')).toEqual([0, 1, 0, 0])
    expect(await counts('2031-04')).toEqual([0, 0, 1, 0])
    expect(await counts('2031-04', '?as_of=2031-05-05')).toEqual([0, 1, 0, 0])
  })

  test('a stay that is due to two jobs costs once, with the latest of them', async () => {
    const job = (order: string) => {
      const id = addJob(w.desk, order, { task: 'Lamp: set', hours: 1 }).id
      completeJob(w.technician, id, {})
      return id
    }
    const early = job(w.order)
    w.giveBack(w.order)
    const middle = w.later(2)
    const late = job(middle)
    w.giveBack(middle)
    const back = w.later(5)
    job(back)
    // 1 h: 60.00 net, 72.00 with tax
    w.agree(7200, back)
    handBack(w.desk, back, { borne_minor: 7200, borne_reason: 'Ours.' })
    for (const earlier_job_id of [early, late]) await w.decide({ earlier_job_id, later_work_order_id: back })
    const { comebacks } = (await review('2031-03')).figures
    expect(comebacks).toMatchObject({ jobs_came_back: 2, cost_minor: 4000, cost_not_known: 0 })
    expect(comebacks.confirmed).toMatchObject([
      { earlier_job_id: late, days_after: 5, cost: { total_minor: 4000 } },
      { earlier_job_id: early, days_after: 7, cost: null, cost_missing: 'with_another' },
    ])
  })

  test('joints in doubt, calibrations due and work left for later, each as known then', async () => {
    const job = w.add('bearing')
    w.finishJoint(job.joints[0]!.id)
    const old = registerWrench(w.owner, { name: 'W-12', kind: 'clicks', min_nm: 20, max_nm: 120 }).id
    recordCalibration(w.owner, old, { made_on: '2030-05-20', certificate: 'K-9', found: 'good', points: [] })
    const finding = recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Brake hose', severity: 'safety', found_on: '2031-03-03' },
    }).id
    const left = { vehicle_id: w.vehicle, text: 'Brake hose: renew.', finding_id: finding, amount_minor: 18_000 }
    const { id } = leaveForLater(w.desk, left)
    t.clock.set(day(4, 2))
    leaveForLater(w.desk, { vehicle_id: w.vehicle, text: 'Tyres near the limit.' })
    t.clock.set(day(4, 12))
    recordCalibration(w.owner, w.wrench, { made_on: '2031-04-12', certificate: 'K-119', found: 'outside', points: [] })
    t.clock.set(day(4, 20))
    settleLeftForLater(w.desk, id, { job_id: job.id })
    t.clock.set(day(5, 2))
    const [doubt] = (await scenario(t, { as: 'desk', get: '/api/doubts', expect: 200 })).body.items
    settleDoubt(w.technician, doubt.id, { how: 'Tightened again.' })

    const none = { joints: 0, vehicles: 0, severities: { safety: 0, breakdown: 0, nuisance: 0 } }
    const one = { joints: 1, vehicles: 1, severities: { safety: 0, breakdown: 1, nuisance: 0 } }
    const march = (await review('2031-03')).figures
    expect(march.in_doubt).toEqual({ ...none, causes: [] })
    expect(march.left_for_later).toEqual({ count: 1, vehicles: 1, safety: 1, amount_minor: 18_000, not_priced: 0 })
    // due on 20 May: more than 31 days after 31 March, not so after 30 April
    expect(march.calibrations_due).toEqual([])
    const april = (await review('2031-04')).figures
    expect(april.in_doubt).toEqual({ ...one, causes: [{ because: 'wrench W-11', ...one }] })
    expect(april.left_for_later).toEqual({ count: 1, vehicles: 1, safety: 0, amount_minor: 0, not_priced: 1 })
    expect(april.calibrations_due).toEqual([{ wrench_id: old, name: 'W-12', due_on: '2031-05-20', overdue: false }])
    expect((await review('2031-04', '?as_of=2031-05-02')).figures.in_doubt).toEqual({ ...none, causes: [] })
    t.clock.set(day(6, 1))
    expect((await review('2031-05')).figures.calibrations_due).toMatchObject([{ name: 'W-12', overdue: true }])
  })

  test('what is new in what follows what', async () => {
    t.clock.set(day(5, 1))
    const rows = Array.from({ length: 10 }, (_, number) => {
      const row = { vehicle: `V${number}`, family: 'Haulette', component: '', operation: '', by: '' }
      const life = [
        { ...row, date: '2030-01-01', event: 'in_service' },
        { ...row, date: '2031-04-20', event: 'seen' },
      ]
      const belt = { ...row, date: '2031-01-10', event: 'work', by: 'other', operation: 'Belt: renew' }
      const failed = { ...row, date: '2031-03-05', event: 'failure', component: 'Bearing' }
      return number < 5 ? [...life, belt, failed] : life
    }).flat()
    importRows(t.system, rows)
    const march = (await review('2031-03')).figures.pairs
    expect(march).toMatchObject({ often: 1, may: 0 })
    expect(march.news).toMatchObject([
      {
        ...{ operation: 'Belt: renew', component: 'Bearing', failure_mode: null, says: 'often', said: null },
        ...{ failures_after: 5, failures_without: 0, rate_ratio: null, upper: null },
      },
    ])
    expect((await review('2031-04')).figures.pairs).toMatchObject({ often: 1, may: 0, news: [] })
  })

  test('an imported history: hours where they are stated, money that nobody can tell', async () => {
    const row = {
      vehicle: 'V',
      family: 'F',
      event: 'work',
      by: 'us',
      operation: 'Belt: renew',
      comeback_of: '',
      hours: '',
    }
    importRows(t.system, [
      { ...row, id: 'a', date: '2029-05-02', hours: '1.5' },
      { ...row, id: 'b', date: '2029-05-03', vehicle: 'W' },
      { ...row, id: 'c', date: '2029-06-04', comeback_of: 'a', hours: '1', labour_minor: '4000', parts_minor: '250' },
      { ...row, id: 'd', date: '2029-06-09', comeback_of: 'b', vehicle: 'W' },
      { ...row, id: 'e', date: '2029-07-01', comeback_of: 'b', vehicle: 'W' },
    ])
    const may = (await review('2029-05')).figures
    expect(may).toMatchObject({ jobs: 2, imported_jobs: 2, vehicles: 2, book_hours: 1.5, jobs_without_hours: 1 })
    expect(may.charges).toEqual({ invoices: 0, net_minor: null, tax: [], gross_minor: null, borne_minor: null })
    const june = (await review('2029-06')).figures
    expect(june.comebacks).toMatchObject({
      jobs_came_back: 2,
      before: { months: 1, jobs_came_back: 0 },
      cost_minor: 4250,
      cost_not_known: 1,
      confirmed: [
        { days_after: 33, later_order: null, cost: { hours_not_billed: 1, total_minor: 4250 }, is_first: true },
        { days_after: 37, cost: null, cost_missing: 'not_stated', is_first: true },
      ],
    })
    // the same job once more: its cost would count, the job does not
    const july = (await review('2029-07')).figures
    expect(july).toMatchObject({ book_hours: null, jobs_without_hours: 1 })
    expect(july.comebacks).toMatchObject({
      jobs_came_back: 0,
      cost_minor: null,
      before: { months: 2, jobs_came_back: 2 },
    })
    expect(july.comebacks.confirmed).toMatchObject([{ is_first: false }])
  })

  test('a month with nothing in it', async () => {
    const { figures } = await review('1900-01')
    expect(figures).toMatchObject({
      ...{ jobs: 0, vehicles: 0, book_hours: 0 },
      charges: { invoices: 0, net_minor: 0, tax: [], gross_minor: 0, borne_minor: 0 },
      comebacks: { jobs_came_back: 0, before: { months: 0, jobs_came_back: 0 }, cost_minor: 0, confirmed: [] },
      warranty: { jobs: 0, foretold: null },
      pairs: { often: 0, may: 0, news: [] },
    })
    expect(figures.rates.months).toHaveLength(13)
  })

  test('refuses a month that is none or has not begun, and a day on which it cannot be known', async () => {
    for (const month of ['2031-13', '2031-00', '2031-3', '2031', 'March', '1899-12', '2031-04', '9999-12']) {
      const { body } = await scenario(t, {
        ...{ as: 'owner', get: `/api/month-reviews/${month}`, expect: 422, fields: ['/month'] },
      })
      expect(body.detail).not.toBe('')
    }
    for (const day of ['2031-03-04', '2031-02-28', '2031-02-30', '']) {
      await scenario(t, {
        ...{ as: 'owner', get: `/api/month-reviews/2031-03?as_of=${day}`, fields: ['/as_of'] },
        expect: day === '' ? 200 : 422,
        ...(day === '' && { fields: [] }),
      })
    }
    await scenario(t, { as: null, get: '/api/month-reviews/2031-03', expect: 401 })
  })

  describe('the pages', () => {
    async function page(url: string, role: 'owner' | 'desk' | 'technician' = 'owner') {
      const reply = await t.app.inject({ url, headers: { cookie: t.cookie(role) } })
      const text = reply.body
        .replace(/<svg.*?<\/svg>/gs, ' ')
        .replace(/<[^>]*>/g, ' ')
        .replace(/\s+/g, ' ')
      return { status: reply.statusCode, html: reply.body, text }
    }

    test('say the month in words, with the way to decide', async () => {
      const story = twoMonths(t, w)
      const { mopedBack } = await story.goOn()
      const march = await page('/months/2031-03?as_of=2031-04-02')
      expect(march.text).toContain(
        'One earlier job came back in March 2031; there are no months before it to compare with. It cost us €38.00.',
      )
      expect(march.text).toContain('2 jobs handed back · 2 vehicles · 1.7 book hours')
      expect(march.text).toContain('as known on 2 April 2031')
      expect(march.text).toMatch(
        /Rear lamp bulb: replace .* 17 d part The belt was set too tight. €38.00 0.2 hours not billed we do/,
      )
      expect(march.text).toContain('Tax 20 % on €152.00 €30.40')
      const april = await page('/months/2031-04')
      expect(april.text).toContain(
        'No earlier job came back in April 2031; in the month before, one did. One is waiting for your decision.',
      )
      expect(april.html).toContain(`href="/comebacks/${story.second}/${mopedBack}"`)
      expect(april.html).toContain('href="/months/2031-04?as_of&#x3D;2031-05-01"')
      const empty = await page('/months/2030-01')
      expect(empty.text).toContain('Nothing was handed back in January 2030, and nothing came back.')
      expect(empty.text).not.toMatch(/NaN|undefined|null/)
    })

    test('show money to the owner and the desk only, and the decision to the owner only', async () => {
      await twoMonths(t, w).goOn()
      for (const url of ['/months', '/months/2031-03?as_of=2031-04-02', '/months/2031-04']) {
        expect((await page(url)).text).toContain('€')
        expect((await page(url, 'desk')).text).toContain('€')
        expect((await page(url, 'technician')).text).not.toContain('€')
      }
      expect((await page('/months/2031-04', 'desk')).text).toContain('One is waiting for the owner’s decision.')
      expect((await page('/months/2031-04', 'desk')).html).not.toContain('href="/comebacks/')
    })

    test('list the months, newest first', async () => {
      await twoMonths(t, w).goOn()
      const { text } = await page('/months')
      // 1 job, 1 vehicle, none back, one to decide; 2 jobs, 2 vehicles, one back, none to decide
      expect(text).toMatch(/April 2031 1 1 0 1 €0.00 €74.40 March 2031 2 2 1 0 €152.00 €0.00/)
    })

    test('refuse in words what is no month', async () => {
      const future = await page('/months/2031-04')
      expect(future.status).toBe(422)
      expect(future.text).toContain('This month has not begun.')
      expect((await page('/months/2031-3')).text).toContain('A month is written as YYYY-MM, as 2031-03.')
      expect((await page('/months')).text).toContain('No job has been handed back yet.')
    })
  })
})

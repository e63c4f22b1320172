import { beforeEach, describe, expect, test } from 'vitest'
import { handBack } from '../../src/hand-back/index.ts'
import { addJob, completeJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { scenario } from '../support/http.ts'
import { day, review, twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

describe('GET /api/month-reviews/{YYYY-MM}', () => {
  test('March as known on its last day: two jobs, one of them back and still here', async () => {
    const story = twoMonths(t, w)
    await story.goOn()
    const { month, as_known_on, issued_at, figures } = await review(t, '2031-03')
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
    const { as_known_on, figures } = await review(t, '2031-03', '?as_of=2031-04-02')
    expect(as_known_on).toBe('2031-04-02')
    expect(figures.jobs).toBe(2)
    // 0.2 h × 40.00 + one part at 30.00
    const cost = {
      hours_not_billed: 0.2,
      labour_minor: 800,
      parts_minor: 3000,
      goodwill_minor: 0,
      recovered_minor: 0,
      total_minor: 3800,
    }
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
    const { as_known_on, figures } = await review(t, '2031-04')
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
    expect((await review(t, '2031-04', '?as_of=2031-04-10')).figures.comebacks.waiting).toEqual([])
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
      const { confirmed, ruled_out, waiting, jobs_came_back } = (await review(t, month, query)).figures.comebacks
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
    const { comebacks } = (await review(t, '2031-03')).figures
    expect(comebacks).toMatchObject({ jobs_came_back: 2, cost_minor: 4000, cost_not_known: 0 })
    expect(comebacks.confirmed).toMatchObject([
      { earlier_job_id: late, days_after: 5, cost: { total_minor: 4000 } },
      { earlier_job_id: early, days_after: 7, cost: null, cost_missing: 'with_another' },
    ])
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
})

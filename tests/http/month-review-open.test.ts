import { beforeEach, describe, expect, test } from 'vitest'
import { settleDoubt } from '../../src/fastening/index.ts'
import { leaveForLater, recordFinding, settleLeftForLater } from '../../src/findings/index.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'
import { day, review } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

async function pageText(url: string) {
  const { body } = await t.app.inject({ url, headers: { cookie: t.cookie('owner') } })
  return body.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
}

describe('what stands open at the end of a month', () => {
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
    const march = (await review(t, '2031-03')).figures
    expect(march.in_doubt).toEqual({ ...none, causes: [] })
    expect(march.left_for_later).toEqual({ count: 1, vehicles: 1, safety: 1, amount_minor: 18_000, not_priced: 0 })
    // due on 20 May: more than 31 days after 31 March, not so after 30 April
    expect(march.calibrations_due).toEqual([])
    const april = (await review(t, '2031-04')).figures
    expect(april.in_doubt).toEqual({ ...one, causes: [{ because: 'wrench W-11', ...one }] })
    expect(april.left_for_later).toEqual({ count: 1, vehicles: 1, safety: 0, amount_minor: 0, not_priced: 1 })
    expect(april.calibrations_due).toEqual([{ wrench_id: old, name: 'W-12', due_on: '2031-05-20', overdue: false }])
    const words = await pageText('/months/2031-04')
    expect(words).toContain('One bolted joint on one vehicle is in doubt, none of them a matter of safety.')
    expect(words).toContain('wrench W-11 0 1 0 1')
    expect(words).toContain('One piece of advised work on one vehicle is left for later, 1 without a price.')
    expect(await pageText('/months/2031-03')).toContain('Of these one concerns safety: ask again at every visit.')
    expect((await review(t, '2031-04', '?as_of=2031-05-02')).figures.in_doubt).toEqual({ ...none, causes: [] })
    t.clock.set(day(6, 1))
    expect((await review(t, '2031-05')).figures.calibrations_due).toMatchObject([{ name: 'W-12', overdue: true }])
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
    const march = (await review(t, '2031-03')).figures.pairs
    expect(march).toMatchObject({ often: 1, may: 0 })
    expect(march.news).toMatchObject([
      {
        ...{ operation: 'Belt: renew', component: 'Bearing', failure_mode: null, says: 'often', said: null },
        ...{ failures_after: 5, failures_without: 0, rate_ratio: null, upper: null },
      },
    ])
    expect((await review(t, '2031-04')).figures.pairs).toMatchObject({ often: 1, may: 0, news: [] })
    expect(await pageText('/months/2031-03')).toMatch(
      /Belt: renew often followed by Bearing 5 0 never without it \(.* to no limit\)/,
    )
    expect(await pageText('/months/2031-04')).toContain(
      'Nothing new this month. In all, 1 say “often”, 0 say “may be”.',
    )
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
    const may = (await review(t, '2029-05')).figures
    expect(may).toMatchObject({ jobs: 2, imported_jobs: 2, vehicles: 2, book_hours: 1.5, jobs_without_hours: 1 })
    expect(may.charges).toEqual({ invoices: 0, net_minor: null, tax: [], gross_minor: null, borne_minor: null })
    const june = (await review(t, '2029-06')).figures
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
    const july = (await review(t, '2029-07')).figures
    expect(july).toMatchObject({ book_hours: null, jobs_without_hours: 1 })
    expect(july.comebacks).toMatchObject({
      jobs_came_back: 0,
      cost_minor: null,
      before: { months: 2, jobs_came_back: 2 },
    })
    expect(july.comebacks.confirmed).toMatchObject([{ is_first: false }])
  })

  test('a month with nothing in it', async () => {
    const { figures } = await review(t, '1900-01')
    expect(figures).toMatchObject({
      ...{ jobs: 0, vehicles: 0, book_hours: 0 },
      charges: { invoices: 0, net_minor: 0, tax: [], gross_minor: 0, borne_minor: 0 },
      comebacks: { jobs_came_back: 0, before: { months: 0, jobs_came_back: 0 }, cost_minor: 0, confirmed: [] },
      warranty: { jobs: 0, foretold: null },
      pairs: { often: 0, may: 0, news: [] },
    })
    expect(figures.rates.months).toHaveLength(13)
  })
})

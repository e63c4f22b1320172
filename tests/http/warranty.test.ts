import { describe, expect, test } from 'vitest'
import { addDays } from '../../src/core/calendar.ts'
import { eachTestItsApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
/** The day on which the tests begin. */
const TODAY = '2031-03-03'

async function get(path: string, expected = 200, fields?: string[]) {
  const t = await app()
  return (await scenario(t, { as: 'desk', get: `/api/analysis/${path}`, expect: expected, ...(fields && { fields }) }))
    .body
}

/** Our work on a vehicle of its own, handed back `age` days ago; with a comeback `back` days after it, if any. */
function job(vehicle: string, age: number, more: Record<string, string | number> = {}, back?: number) {
  const base = {
    vehicle,
    family: 'F',
    operation: 'Belt: renew',
    component: '',
    warranty_days: 100,
    warranty_km: '',
    distance: '',
    labour_minor: '',
    parts_minor: '',
    comeback_of: '',
    id: '',
  }
  const on = addDays(TODAY, -age)
  return [
    { ...base, ...more, date: on, event: 'work', by: 'us', id: vehicle },
    ...(back === undefined
      ? []
      : [
          {
            ...base,
            date: addDays(on, back),
            event: 'failure',
            by: '',
            operation: '',
            warranty_days: '',
            component: 'Bearing',
            labour_minor: 8000,
            parts_minor: 1000,
            comeback_of: vehicle,
          },
        ]),
  ]
}

describe('GET /api/analysis/warranty-exposure', () => {
  test('an example worked by hand: hazard of all jobs, chance of the open ones, quantiles and money', async () => {
    const { system } = await app()
    // watched 50 (came back), 100, 40 and 60 days: H(t) = 1/3 from day 50 on (three were still watched then)
    importRows(system, [...job('A', 200, {}, 50), ...job('B', 200), ...job('C', 40), ...job('D', 60)])
    const answer = await get('warranty-exposure')
    const chance = 1 - Math.exp(-1 / 3)
    expect(answer).toMatchObject({ as_of: TODAY, jobs: 2, claims: { p05: 0, p50: 0, p95: 1 } })
    expect(answer.expected_claims).toBeCloseTo(chance, 12)
    expect(answer.expected_cost_minor).toBe(Math.round(chance * 9000))
    expect(answer.cost_minor).toEqual({ p05: 0, p50: 0, p95: 9000 })
    expect(answer.operations).toHaveLength(1)
    expect(answer.operations[0]).toMatchObject({ operation: 'Belt: renew', jobs: 2, observed: 1, multiplier: 1 })
    expect(answer.operations[0].expected).toBeCloseTo(1, 12)
  })

  test('only what was known then is seen', async () => {
    const { system } = await app()
    importRows(system, [...job('A', 200, {}, 50), ...job('B', 200)])
    expect(await get(`warranty-exposure?as_of=${addDays(TODAY, -160)}`)).toMatchObject({ jobs: 2, expected_claims: 0 })
    expect(await get(`warranty-exposure?as_of=${addDays(TODAY, -150)}`)).toMatchObject({ jobs: 1 })
    expect(await get(`warranty-exposure?as_of=${addDays(TODAY, -201)}`)).toMatchObject({ jobs: 0, operations: [] })
  })

  test('a warranty ends by distance, too: at the vehicle’s usage, or the fleet’s where it has no two readings', async () => {
    const { system } = await app()
    const seen = (vehicle: string, age: number, distance: number) => ({
      ...job(vehicle, age)[0]!,
      event: 'seen',
      by: '',
      operation: '',
      warranty_days: '',
      id: '',
      distance,
    })
    const term = { warranty_km: 3000 }
    importRows(system, [
      ...job('Fast', 40, term),
      seen('Fast', 100, 10_000),
      seen('Fast', 0, 20_000), // 100 km a day: the promise ended after 30 days
      ...job('Slow', 40, term),
      seen('Slow', 100, 10_000),
      seen('Slow', 0, 15_000), // 50 km a day: it ends after 60
      ...job('Unread', 39, term), // the fleet's median is 75 km a day: 40 days
      ...job('Late', 41, term),
    ])
    expect(await get('warranty-exposure')).toMatchObject({ jobs: 2 })
  })

  test('refuses what it does not know', async () => {
    await get('warranty-exposure?as_of=tomorrow', 422, ['/as_of'])
    await get('warranty-exposure?by=month', 422, ['/by'])
    expect(await get('warranty-exposure?as_of=0000-01-01')).toMatchObject({ jobs: 0 })
    expect(await get('warranty-exposure?as_of=9999-12-31')).toMatchObject({ jobs: 0 })
  })
})

describe('GET /api/analysis/warranty-backtest', () => {
  test('foretells at past month-ends and counts what happened', async () => {
    const { system } = await app()
    const rows = Array.from({ length: 40 }, (_, place) =>
      job(`V${place}`, 400 - place * 5, {}, place % 4 === 0 ? 20 : undefined),
    ).flat()
    importRows(system, rows)
    const { cutoffs, coverage, horizon_days } = await get(
      'warranty-backtest?from=2030-05-31&to=2030-12-31&horizon_days=60',
    )
    expect(horizon_days).toBe(60)
    expect(cutoffs.map((cutoff: { as_of: string }) => cutoff.as_of)).toEqual([
      ...[
        '2030-05-31',
        '2030-06-30',
        '2030-07-31',
        '2030-08-31',
        '2030-09-30',
        '2030-10-31',
        '2030-11-30',
        '2030-12-31',
      ],
    ])
    // after 31 May 2030 jobs of the 20 days before may still come back: of places 24 (11 May) and 28 (31 May) both did
    expect(cutoffs[0].actual).toBe(rowsComingBack(rows, '2030-05-31', 60))
    expect(cutoffs[0].actual).toBeGreaterThan(0)
    for (const cutoff of cutoffs) expect(cutoff.actual).toBe(rowsComingBack(rows, cutoff.as_of, 60))
    const inside = cutoffs.filter(
      (c: { p05: number; p95: number; actual: number }) => c.p05 <= c.actual && c.actual <= c.p95,
    )
    expect(coverage).toBe(inside.length / cutoffs.length)
  })

  /** Comebacks of jobs handed back by a day that came in the days after it. */
  function rowsComingBack(rows: ReturnType<typeof job>, cutoff: string, days: number): number {
    const handedBack = new Map(rows.filter(row => row.event === 'work').map(row => [row.id, row.date]))
    return rows.filter(
      row =>
        row.event === 'failure' &&
        row.date > cutoff &&
        row.date <= addDays(cutoff, days) &&
        handedBack.get(row.comeback_of)! <= cutoff,
    ).length
  }

  test('without a period it is the last twelve months; nothing to look back on is no error', async () => {
    const { cutoffs, coverage } = await get('warranty-backtest')
    expect(cutoffs.map((cutoff: { as_of: string }) => cutoff.as_of)).toEqual([
      ...['2029-12-31', '2030-01-31', '2030-02-28', '2030-03-31', '2030-04-30', '2030-05-31', '2030-06-30'],
      ...['2030-07-31', '2030-08-31', '2030-09-30', '2030-10-31', '2030-11-30'],
    ])
    expect(coverage).toBe(1)
    expect(await get('warranty-backtest?from=2031-03-01')).toMatchObject({ cutoffs: [], coverage: null })
    expect(await get('warranty-backtest?as_of=0000-01-01')).toMatchObject({ cutoffs: [] })
    await get('warranty-backtest?from=2030-02-01&to=2030-01-01', 422, ['/to'])
    await get('warranty-backtest?from=1990-01-01', 422, ['/from'])
    await get('warranty-backtest?horizon_days=0', 422, ['/horizon_days'])
  })
})

describe('/warranty', () => {
  test('says what may still come back, operation by operation, and whether we were right before', async () => {
    const { app: server, system, cookie } = await app()
    importRows(system, [...job('A', 200, {}, 50), ...job('B', 200), ...job('C', 40), ...job('D', 60)])
    const answer = await server.inject({ url: '/warranty', headers: { cookie: cookie('owner') } })
    expect(answer.statusCode).toBe(200)
    const text = answer.body.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
    expect(text).toContain(
      '2 jobs are under warranty. About 0.3 claims are still to come, 0 to 1 in nine cases of ten. On average of all that may happen they cost €25.51; in nine cases of ten €0.00 to €',
    )
    expect(text).toContain('Belt: renew 2 1 1.0 1.00 0.3 €25.51')
    expect(text).toContain('Were we right before?')
    expect(text).toMatch(/Added up, \d+\.\d were foretold and \d+ happened; the spans overlap/)
  })
})

describe('the promises on /warranty', () => {
  test('lists the promises that run, soonest end first, each with its vehicle', async () => {
    const t = await app()
    // claimed, over, and two that run: the limit by distance of the second is reached first
    importRows(t.system, [
      ...job('A', 60, {}, 50),
      ...job('B', 200),
      ...job('C', 40, { distance: 20_000 }),
      ...job('D', 10, { warranty_km: 1000, distance: 50_000 }),
      { vehicle: 'D', family: 'F', date: addDays(TODAY, -110), event: 'seen', distance: 40_000 },
    ])
    const reply = await t.app.inject({ url: '/warranty', headers: { cookie: t.cookie('owner') } })
    const section = reply.body.split('id="promises"')[1]?.split('</section>')[0] ?? ''
    const id = (name: string) =>
      t.deps.store.raw.prepare('select id from vehicles where imported_as = ?').pluck().get(name) as string
    const linked = [...section.matchAll(/href="\/vehicles\/([^"]*)"/g)].map(([, vehicle]) => vehicle)
    expect(linked).toEqual([id('D'), id('C')])
    const text = section
      .replace(/<[^>]*>/g, ' ')
      .replaceAll('\u00a0', ' ')
      .replace(/\s+/g, ' ')
    // 100 km a day: 1 000 km last ten days, to today
    expect(text).toContain('3 Mar 2031 D F Belt: renew imported history, 21 Feb 2031 1 Jun 2031 51 000 km')
    expect(text).toContain('2 May 2031 C F Belt: renew')
  })
})

describe('whom to call first', () => {
  const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
  test('are the promises likeliest to be claimed, with the chance worked by hand, the cost and the keeper', async () => {
    const t = await app()
    // as above: D (60 days) is past day 50, so H is flat and nothing is to come; C (40 days) claims with 1 − e^(−1/3) = 28 %
    importRows(t.system, [...job('A', 200, {}, 50), ...job('B', 200), ...job('C', 40), ...job('D', 60)])
    const html = await page(t, '/warranty', t.cookie('desk'))
    const risky = read(html.slice(html.indexOf('id="risky"'), html.indexOf('id="promises"')))
    expect(risky).toContain('C F Belt: renew imported history, 22 Jan 2031 28 % €90.00')
    expect(risky).toContain('nobody is known to keep it')
    expect(risky).not.toContain('D F')
    expect(risky).toContain('Few cases carry it')
  })

  test('is nobody while nothing ever came back', async () => {
    const t = await app()
    importRows(t.system, job('B', 20))
    expect(await page(t, '/warranty', t.cookie('desk'))).not.toContain('id="risky"')
  })
})

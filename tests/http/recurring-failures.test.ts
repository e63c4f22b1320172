import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { recordFinding } from '../../src/findings/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { importRows, valveSeatRows } from '../support/histories.ts'

const app = eachTestItsApp()

const published = JSON.parse(
  readFileSync(new URL('../published/statistics/mean-cumulative-function.json', import.meta.url), 'utf8'),
) as { valve_seats: { expected: { age: number[]; at_risk: number[]; mcf: number[]; se_robust: number[] } } }

async function api(path: string) {
  const { app: server, tokens } = await app()
  return server.inject({ url: `/api/analysis/${path}`, headers: { authorization: `Bearer ${tokens.desk}` } })
}

async function page(path: string): Promise<string> {
  const { app: server, cookie } = await app()
  const answer = await server.inject({ url: path, headers: { cookie: cookie('owner') } })
  expect(answer.statusCode).toBe(200)
  return answer.body
}

/** A page's text without its marks, each cell and paragraph apart. */
function textOf(html: string): string {
  return html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\s+/g, ' ')
}

interface Curve {
  as_of: string
  method: string
  units: number
  events: number
  points: { at: number; at_risk: number; events: number; mcf: number; se: number; lower: number; upper: number }[]
}

describe('GET /api/analysis/recurrence', () => {
  // Replacements of valve seats in 41 diesel engines: Nelson (1995) Technometrics 37:147-157; estimates and robust standard
  // errors as printed by R's survival package (see tests/published/statistics/mean-cumulative-function.json).
  test.each([
    ['failure', 'component=Valve%20seat'],
    ['work', 'operation=Valve%20seats:%20replace'],
  ] as const)(
    'gives the published curve of the valve seats, recorded as %s, to every printed digit',
    async (event, query) => {
      const { system } = await app()
      importRows(system, valveSeatRows(event))
      const answer = await api(`recurrence?${query}`)
      expect(answer.statusCode).toBe(200)
      const { units, events, points, as_of } = answer.json() as Curve
      const { age, at_risk, mcf, se_robust } = published.valve_seats.expected
      expect([units, events, as_of]).toEqual([41, 48, '2031-03-03'])
      expect(points.map(point => point.at)).toEqual(age)
      expect(points.map(point => point.at_risk)).toEqual(at_risk)
      expect(points.map(point => Number(point.mcf.toFixed(3)))).toEqual(mcf)
      expect(points.map(point => Number(point.se.toFixed(3)))).toEqual(se_robust)
      for (const { mcf: m, se, lower, upper } of points) {
        expect(upper - m).toBeCloseTo(1.959963984540054 * se, 12)
        expect(m - lower).toBeCloseTo(1.959963984540054 * se, 12)
      }
    },
  )

  test('the page shows the same numbers at all 46 ages, with the curve drawn', async () => {
    const { system } = await app()
    importRows(system, valveSeatRows())
    const html = await page(
      '/recurring/recurrence?component=Valve+seat&mode=&operation=&family=&compare_family=&clock=days&as_of=',
    )
    const text = textOf(html)
    const { age, at_risk, mcf, se_robust } = published.valve_seats.expected
    age.forEach((at, place) => {
      expect(text).toMatch(
        new RegExp(` ${at} +${at_risk[place]} +\\d +${mcf[place]!.toFixed(3)} +${se_robust[place]!.toFixed(3)} `),
      )
    })
    expect(html).toContain('id="recurrence-wide-t"')
    expect(text).toContain(
      '48 times on 41 vehicles. By 667 days a vehicle has had it 1.54 times on average (1.04 to 2.29). At other ages fewer than five vehicles were watched.',
    )
  })

  test('knows by family, by mode, without one, as of a day, and beside another family', async () => {
    const { system } = await app()
    const life = (vehicle: string, family: string) => [
      { vehicle, family, date: '2030-01-01', event: 'in_service' },
      { vehicle, family, date: '2030-04-11', event: 'failure', component: 'Alternator', failure_mode: 'worn' },
      { vehicle, family, date: '2030-07-20', event: 'failure', component: 'Alternator' },
      { vehicle, family, date: '2030-10-28', event: 'seen', distance: '30000' },
    ]
    importRows(system, [...life('A', 'Haulette'), ...life('B', 'Haulette'), ...life('C', 'Tramp')])
    const at = async (query: string) => {
      const curve = (await api(`recurrence?component=Alternator&${query}`)).json() as Curve
      return [curve.units, ...curve.points.map(point => `${point.at}:${point.mcf}`)]
    }
    expect(await at('')).toEqual([3, '100:1', '200:2'])
    expect(await at('failure_mode=worn')).toEqual([3, '100:1'])
    expect(await at('failure_mode=')).toEqual([3, '200:1'])
    expect(await at('family=Haulette')).toEqual([2, '100:1', '200:2'])
    expect(await at('as_of=2030-07-19')).toEqual([3, '100:1'])
    expect(await at('clock=distance')).toEqual([3, '10000:1', '20000:2'])
    const beside = (await api('recurrence?component=Alternator&compare_family=Tramp')).json() as { compare: Curve }
    expect(beside.compare).toMatchObject({ family: 'Tramp', units: 1, events: 2 })
  })

  test('a finding counts from the day on which it was written down, whatever day it is about', async () => {
    const { system, clock } = await app()
    importRows(system, [
      { vehicle: 'A', family: 'F', date: '2030-01-01', event: 'in_service' },
      { vehicle: 'A', family: 'F', date: '2031-03-01', event: 'seen' },
    ])
    const vehicle_id = system.store.raw.prepare('select id from vehicles').pluck().get() as string
    clock.set(Date.UTC(2031, 1, 20))
    recordFinding(system, { vehicle_id, component: 'Bearing', severity: 'breakdown', found_on: '2031-01-15' })
    const events = async (day: string) =>
      ((await api(`recurrence?component=Bearing&as_of=${day}`)).json() as Curve).events
    expect(await events('2031-02-19')).toBe(0)
    expect(await events('2031-02-20')).toBe(1)
  })

  test.each([
    ['', '/component'],
    ['component=Nothing', '/component'],
    ['component=Alternator&failure_mode=melted', '/failure_mode'],
    ['operation=Nothing', '/operation'],
    ['component=Alternator&operation=Renew', '/component'],
    ['component=Alternator&family=Nobody', '/family'],
    ['component=Alternator&compare_family=Nobody', '/compare_family'],
    ['component=Alternator&clock=moons', '/clock'],
    ['component=Alternator&as_of=yesterday', '/as_of'],
    ['component=Alternator&colour=red', '/colour'],
  ])('recurrence?%s is refused at %s', async (query, pointer) => {
    const { system } = await app()
    importRows(system, [
      { vehicle: 'A', family: 'F', date: '2030-01-01', event: 'failure', component: 'Alternator', operation: '' },
      { vehicle: 'A', family: 'F', date: '2030-01-01', event: 'work', component: '', operation: 'Renew' },
    ])
    const answer = await api(`recurrence?${query}`)
    expect(answer.statusCode).toBe(422)
    expect((answer.json() as { errors: { pointer: string }[] }).errors.map(error => error.pointer)).toEqual([pointer])
  })
})

/** Ten vehicles; the bearing fails 50 days after the belt on five of them, and on none of the others but one, late. */
function belts(): Record<string, string | number>[] {
  const rows: Record<string, string | number>[] = []
  for (let number = 0; number < 10; number += 1) {
    const vehicle = `V${number}`
    const row = (date: string, more: Record<string, string | number>) =>
      rows.push({ vehicle, family: 'Haulette', date, ...more })
    row('2029-01-01', { event: 'in_service' })
    row('2031-01-01', { event: 'seen', distance: 40_000 })
    if (number < 5) {
      row('2030-03-02', { event: 'work', by: number < 3 ? 'other' : 'us', operation: 'Belt: renew' })
      row('2030-04-21', {
        event: 'failure',
        component: 'Bearing',
        failure_mode: 'noisy',
        labour_minor: 10_000 + number,
      })
    }
  }
  rows.push({
    vehicle: 'V9',
    family: 'Haulette',
    date: '2030-06-01',
    event: 'failure',
    component: 'Bearing',
    failure_mode: 'noisy',
  })
  return rows
}

describe('GET /api/analysis/prior-work', () => {
  interface Answer {
    as_of: string
    pairs: Record<string, unknown>[]
  }

  test('tests the pair, with who did the work, the delay, the cost and what it says', async () => {
    const { system } = await app()
    importRows(system, belts())
    const answer = await api('prior-work?window=365&min_events=3')
    expect(answer.statusCode).toBe(200)
    const { pairs, as_of } = answer.json() as Answer
    expect(as_of).toBe('2031-03-03')
    expect(pairs).toHaveLength(1)
    expect(pairs[0]).toMatchObject({
      operation: 'Belt: renew',
      component: 'Bearing',
      failure_mode: 'noisy',
      strata: 1,
      exposed: { vehicles: 5, events: 5 },
      unexposed: { vehicles: 10, events: 1 },
      delay: { n: 5, q1: 50, median: 50, q3: 50 },
      by: { us: 2, other: 3, owner: 0, unknown: 0 },
      mean_cost_minor: 10_002,
      says: 'often',
      findings_say: 0,
    })
    // 5 failures in 5 · 305 exposed days, 1 in the 10 · 730 − 1525 others
    const { rate_ratio, crude_rate_ratio } = pairs[0] as { rate_ratio: number; crude_rate_ratio: number }
    expect(rate_ratio).toBeCloseTo(5 / 1525 / (1 / (7300 - 1525)), 10)
    expect(crude_rate_ratio).toBeCloseTo(rate_ratio, 10)
  })

  test('by=us counts only our work, a shorter window fewer failures, and too few failures are not tested', async () => {
    const { system } = await app()
    importRows(system, belts())
    const pairs = async (query: string) => ((await api(`prior-work?${query}`)).json() as Answer).pairs
    expect(await pairs('by=us')).toMatchObject([{ exposed: { vehicles: 2, events: 2 }, unexposed: { events: 4 } }])
    expect(await pairs('window=49')).toMatchObject([{ exposed: { events: 0 } }])
    expect(await pairs('min_events=7')).toEqual([])
    expect(await pairs('clock=distance')).toMatchObject([{ exposed: { events: 5 } }])
  })

  test.each([
    'window=0',
    'window=-1',
    'window=soon',
    'min_events=0',
    'min_events=1.5',
    'by=them',
    'clock=km',
    'cursor=x',
  ])('prior-work?%s is refused', async query => {
    const answer = await api(`prior-work?${query}`)
    expect(answer.statusCode).toBe(422)
    expect((answer.json() as { errors: { pointer: string }[] }).errors[0]?.pointer).toBe(`/${query.split('=')[0]}`)
  })
})

describe('the pages of what follows what', () => {
  test('say it in a sentence, in a table with its interval, and lead to the vehicles behind it', async () => {
    const { system } = await app()
    importRows(system, belts())
    const [pair] = (await api('prior-work?window=365')).json().pairs as { lower: number; upper: number }[]
    const { lower, upper } = pair!
    const html = await page('/recurring?clock=days&window=365&min_events=&by=&as_of=')
    const text = textOf(html)
    expect(text).toContain(
      `“Belt: renew” is often followed by “Bearing, noisy”: 19 times as often as without it (${lower.toFixed(1)} to ${upper.toFixed(0)}), among vehicles of the same family.`,
    )
    expect(text).toContain(
      'All families counted together it is 5 times in 4.2 vehicle-years after it, against 1 in 16 without it, 19 times as often.',
    )
    const sentence = `in 5 of 5 such vehicles: 19 times as often as without it (${lower.toFixed(1)} to ${upper.toFixed(0)}), typically 50 days later.`
    expect(text).toContain(
      `Belt: renew often followed by Bearing, noisy Found ${sentence} Of 5, 3 by other workshops and 2 by us.`,
    )
    expect(text).toContain('That is an association, not yet a cause. No finding names this work as the cause yet.')
    const href = /href="(\/recurring\/pair\?[^"]*)"/.exec(html)?.[1]?.replaceAll('&amp;', '&').replaceAll('&#x3D;', '=')
    const behind = textOf(await page(href ?? ''))
    expect(behind).toContain(`After “Belt: renew”, “Bearing, noisy” was found ${sentence}`)
    expect(behind).toContain('That is an association, not yet a cause.')
    expect(behind).toMatch(/V3 Haulette 21 Apr 2030 50 days us/)
    expect(behind).not.toContain('V9')
  })

  test('say so when there is nothing yet, and what cannot be asked', async () => {
    expect(textOf(await page('/recurring'))).toContain(
      'No pair of work and later failure has enough failures to be tested yet.',
    )
    expect(textOf(await page('/recurring/recurrence'))).toContain('A failure of a component, or an operation')
    expect(textOf(await page('/recurring/recurrence?component=Nothing'))).toContain(
      'There is no component called “Nothing”.',
    )
  })
})

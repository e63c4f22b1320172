import { describe, expect, test } from 'vitest'
import { createAccessStep, createComponent, createOperation, createSymptom } from '../../src/catalogue/index.ts'
import { updateComponent } from '../../src/catalogue/service/components.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'

const app = eachTestItsApp()

type Row = Record<string, string | number>
const life = (vehicle: string, family: string, ...events: Row[]): Row[] =>
  events.map(event => ({ vehicle, family, operation: '', component: '', by: '', symptom: '', distance: '', ...event }))
const inService = (date: string): Row => ({ date, event: 'in_service' })
const seen = (date: string, distance: number | '' = ''): Row => ({ date, event: 'seen', distance })
const work = (date: string): Row => ({ date, event: 'work', by: 'us', operation: 'Belt: renew' })
const failure = (date: string): Row => ({ date, event: 'failure', component: 'Bearing', symptom: 'Hum' })

/** Histories of which little or nothing can be said. The catalogue knows Belt: renew, Bearing and Hum in all of them. */
const HISTORIES: Record<string, Row[]> = {
  'no vehicle at all': [],
  'a vehicle that was seen once': life('A', 'F', seen('2029-05-01', 1000)),
  'one vehicle': life(
    ...(['A', 'F'] as const),
    ...[
      inService('2028-01-01'),
      work('2029-01-01'),
      failure('2029-03-02'),
      failure('2029-09-01'),
      failure('2030-01-01'),
    ],
    seen('2030-06-01', 30_000),
  ),
  'no failures': [
    ...life('A', 'F', inService('2028-01-01'), work('2029-01-01'), seen('2030-06-01', 30_000)),
    ...life('B', 'F', inService('2028-01-01'), seen('2030-06-01')),
  ],
  'all the same family': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', inService('2028-01-01'), work('2029-01-01'), failure('2029-03-02'), seen('2030-06-01', 30_000)),
  ),
  'each its own family': ['A', 'B', 'C'].flatMap(name =>
    life(name, `F ${name}`, inService('2028-01-01'), work('2028-01-01'), failure('2029-03-02'), seen('2030-06-01')),
  ),
  'all on one day': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', inService('2029-01-01'), work('2029-01-01'), failure('2029-01-01'), seen('2029-01-01', 10)),
  ),
  'failures only before the work': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', inService('2028-01-01'), failure('2028-06-01'), work('2029-01-01'), seen('2030-06-01', 30_000)),
  ),
  'failures only after the work': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', inService('2028-01-01'), work('2029-01-01'), failure('2029-06-01'), seen('2030-06-01', 30_000)),
  ),
  'work that nobody can date': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', inService('2028-01-01'), work(''), failure('2029-06-01'), seen('2030-06-01', 30_000)),
  ),
  'no reading of any odometer': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', seen('2028-01-01'), work('2029-01-01'), failure('2029-06-01'), seen('2030-06-01')),
  ),
  'odometers that stand still': ['A', 'B', 'C'].flatMap(name =>
    life(name, 'F', seen('2028-01-01', 500), work('2029-01-01'), failure('2029-06-01'), seen('2030-06-01', 500)),
  ),
}

const CLOCKS = ['days', 'distance']
const READ = [
  ...CLOCKS.flatMap(clock =>
    ['', '&window=30', '&window=9000000', '&by=owner'].map(more => `prior-work?min_events=1&clock=${clock}${more}`),
  ),
  ...CLOCKS.flatMap(clock =>
    ['component=Bearing', 'operation=Belt%3A%20renew', 'component=Bearing&failure_mode='].map(
      what => `recurrence?${what}&clock=${clock}`,
    ),
  ),
  ...['month', 'operation', 'cause', 'supplier', 'family'].map(by => `comeback-rate?by=${by}`),
  ...['warranty-exposure', 'warranty-backtest', 'season?symptom=Hum', 'season?component=Bearing'],
]

/** Where an answer may say null by its contract. */
const MAY_BE_NULL = [
  /^pairs\.(failure_mode|crude_rate_ratio|rate_ratio|lower|upper|mean_cost_minor|share_attributed|more_time_to_tell)$/,
  /^pairs\.delay\.(q1|median|q3)$/,
  /^groups\.(rate|lower|upper|limit_lower|limit_upper)$/,
  /^coverage$/,
  /^(peak_month|mean_direction_deg)$/,
  /^offers\.(price_minor|expected_minor|tie_price_minor)$/,
]

function nulls(value: unknown, path = ''): string[] {
  if (value === null) return [path]
  if (Array.isArray(value)) return value.flatMap(item => nulls(item, path))
  if (typeof value !== 'object') return []
  return Object.entries(value).flatMap(([name, member]) => nulls(member, path === '' ? name : `${path}.${name}`))
}

/** A catalogue that knows all three names, and a history. */
async function world(rows: Row[]): Promise<TestApp> {
  const t = await app()
  const owner = t.as('owner')
  createSymptom(owner, { name: 'Hum' })
  const bearing = createComponent(owner, {
    ...{ name: 'Bearing', severity: 'breakdown', causes: ['Hum'], check_minutes: 5, access_step_ids: [] },
  })
  const step = createAccessStep(owner, { name: 'Guard off', hours: 0.5, needs: [], exposes: ['Bearing'], disturbs: [] })
  const plan = { joints: [], looks: [], final_checks: [], access_step_ids: [step.id] }
  const operation = createOperation(owner, { name: 'Belt: renew', hours: 1, ...plan })
  updateComponent(owner, bearing.id, bearing.version, { remedy_operation_id: operation.id })
  if (rows.length > 0) importRows(t.system, rows)
  return t
}

async function answerTo(t: TestApp, question: string, body?: object): Promise<Record<string, unknown>> {
  const reply = await t.app.inject({
    ...{ url: `/api/analysis/${question}`, headers: { authorization: `Bearer ${t.tokens.desk}` } },
    ...(body !== undefined && { method: 'POST', payload: body }),
  })
  expect(reply.statusCode, `${question} ${reply.body.slice(0, 400)}`).toBe(200)
  return reply.json() as Record<string, unknown>
}

const pairs = async (t: TestApp, more = '') =>
  (await answerTo(t, `prior-work?min_events=1${more}`)).pairs as Record<string, never>[]

describe.each(Object.entries(HISTORIES))('%s', (_name, rows) => {
  test('every analysis answers, with null only where the contract says so', async () => {
    const t = await world(rows)
    const unsaid = (answer: object) => nulls(answer).filter(path => !MAY_BE_NULL.some(known => known.test(path)))
    for (const question of READ) expect(unsaid(await answerTo(t, question)), question).toEqual([])
    expect(unsaid(await answerTo(t, 'new-or-used', { component: 'Bearing' }))).toEqual([])
    const family = rows[0]?.family
    if (family === undefined) return
    expect(unsaid(await answerTo(t, 'first-checks', { symptom: 'Hum', family, season_month: 1 }))).toEqual([])
    expect(unsaid(await answerTo(t, 'while-open', { family, operations: ['Belt: renew'] }))).toEqual([])
  })

  test('a window beyond the history is none', async () => {
    const t = await world(rows)
    for (const clock of CLOCKS)
      expect(await pairs(t, `&clock=${clock}&window=9000000`)).toEqual(await pairs(t, `&clock=${clock}`))
  })

  test('every page says it in words', async () => {
    const t = await world(rows)
    for (const address of [
      ...['/recurring', '/recurring?any_time=true&min_events=1', '/recurring?clock=distance&min_events=1'],
      ...['/recurring/pair?operation=Belt%3A+renew&component=Bearing', '/recurring/first-checks?symptom=Hum'],
      ...CLOCKS.map(clock => `/recurring/recurrence?component=Bearing&clock=${clock}`),
      ...['/recurring/season?symptom=Hum', '/comebacks/rate', '/warranty'],
    ]) {
      const html = await page(t, address, t.cookie('owner'))
      expect(html.replace(/<[^>]*>/g, ' '), address).not.toMatch(/\b(?:NaN|undefined|Infinity|null)\b/)
      expect(html, address).not.toMatch(/="[^"]*(?:NaN|undefined|Infinity)[^"]*"/)
    }
  })
})

describe('and the answers are right', () => {
  test('one vehicle: never without the work, so no ratio and no upper limit', async () => {
    const t = await world(HISTORIES['one vehicle']!)
    const [pair] = await pairs(t)
    // 2028 has 366 days, 516 more lie between the work and the last record
    expect(pair).toMatchObject({
      ...{ strata: 1, rate_ratio: null, upper: null, share_attributed: null, more_time_to_tell: null },
      exposed: { vehicles: 1, events: 3, time: 516 / 365.25 },
      unexposed: { vehicles: 1, events: 0, time: 366 / 365.25 },
      vehicles_failed: 1,
    })
    // three of three in 516 of 882 days: mid-P is the half of that chance, on either side
    expect(pair!.p).toBeCloseTo((516 / 882) ** 3, 12)
    expect(pair!.says).toBe('not_shown')
    const { points } = await answerTo(t, 'recurrence?component=Bearing')
    expect(points).toMatchObject([
      { at: 426, at_risk: 1, mcf: 1, se: 0 },
      { at: 609, at_risk: 1, mcf: 2, se: 0 },
      { at: 731, at_risk: 1, mcf: 3, se: 0 },
    ])
  })

  test.each([
    'no vehicle at all',
    'a vehicle that was seen once',
    'no failures',
    'each its own family',
    'all on one day',
    'work that nobody can date',
  ])('%s: no pair is tested', async name => {
    const t = await world(HISTORIES[name]!)
    for (const clock of CLOCKS) expect(await pairs(t, `&clock=${clock}`)).toEqual([])
  })

  test('without a failure nothing recurs, and on the first day itself nothing has recurred', async () => {
    const none = await world(HISTORIES['no failures']!)
    expect(await answerTo(none, 'recurrence?component=Bearing')).toMatchObject({ units: 2, events: 0, points: [] })
    expect(await answerTo(none, 'season?component=Bearing')).toMatchObject({
      p: 1,
      peak_month: null,
      resultant_length: 0,
    })
  })

  test('all on one day: three vehicles without time, and failures at age zero', async () => {
    const t = await world(HISTORIES['all on one day']!)
    expect(await answerTo(t, 'recurrence?component=Bearing')).toMatchObject({ units: 3, events: 0, points: [] })
  })

  test('failures only before the work: none follows it, and the upper limit says how rarely at most', async () => {
    const t = await world(HISTORIES['failures only before the work']!)
    const [pair] = await pairs(t)
    expect(pair).toMatchObject({
      ...{ rate_ratio: 0, lower: 0, vehicles_failed: 0, more_time_to_tell: null, says: 'not_shown' },
      exposed: { vehicles: 3, events: 0 },
      unexposed: { vehicles: 3, events: 3 },
      delay: { n: 0, q1: null, median: null, q3: null },
    })
    // none of three in 516 of 882 days a vehicle; the mid-P limit is where half of (1 − share)³ is 2.5 %
    const share = 1 - 0.05 ** (1 / 3)
    expect(pair!.upper).toBeCloseTo((share / (1 - share)) * (366 / 516), 9)
  })

  test('failures only after it: all of them are its, and nobody can say by how much', async () => {
    const t = await world(HISTORIES['failures only after the work']!)
    const [pair] = await pairs(t)
    expect(pair).toMatchObject({ rate_ratio: null, upper: null, exposed: { events: 3 }, vehicles_failed: 3 })
    const share = 0.05 ** (1 / 3)
    expect(pair!.lower).toBeCloseTo((share / (1 - share)) * (366 / 516), 9)
  })

  test.each(['no reading of any odometer', 'odometers that stand still'])(
    '%s: something is said of days, nothing of distance',
    async name => {
      const t = await world(HISTORIES[name]!)
      expect(await pairs(t, '&clock=distance')).toEqual([])
      expect(await pairs(t)).toHaveLength(1)
    },
  )
})

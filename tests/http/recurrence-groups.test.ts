import { describe, expect, test } from 'vitest'
import { addDays } from '../../src/core/calendar.ts'
import { updateVehicle, vehicleById } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
const START = '2030-01-01'
const Z = 1.959963984540054

/** A vehicle from its first day to its last, with repairs of its alternator at these ages in days; a km a day. */
function life(vehicle: string, family: string, end: number, ...ages: number[]): Record<string, string | number>[] {
  const row = (age: number, more: Record<string, string>) => ({
    ...{ vehicle, family, date: addDays(START, age), distance: age, component: '' },
    ...more,
  })
  return [
    row(0, { event: 'in_service' }),
    ...ages.map(age => row(age, { event: 'failure', component: 'Alternator' })),
    row(end, { event: 'seen' }),
  ]
}

/** Meeker & Escobar (1998), section 16.2, from memory: variances 6/81, 6/81, 24/81, 163/216 at 1, 5, 8, 16. */
const THREE = [
  ...life('A1', 'Haulette', 12, 5, 8),
  ...life('A2', 'Haulette', 16),
  ...life('A3', 'Haulette', 20, 1, 8, 16),
]
/** Two units with repairs at 5 and 9, and at 9: by hand M = 1/2 and 3/2, variance 1/8 at both. */
const TWO = [...life('B1', 'Tramp', 10, 5, 9), ...life('B2', 'Tramp', 18, 9)]

const vehicleCalled = (t: TestApp, name: string) =>
  t.system.store.raw.prepare('select id from vehicles where imported_as = ?').pluck().get(name) as string

function name(t: TestApp, vehicle: string, variant: string): void {
  const id = vehicleCalled(t, vehicle)
  updateVehicle(t.as('desk'), id, vehicleById(t.system, id).version, { variant })
}

const read = async (t: TestApp, query: string) =>
  (await page(t, `/recurring/recurrence?component=Alternator&${query}`, t.cookie('owner')))
    .replace(/<[^>]*>/g, ' ')
    .replace(/[\s\u00a0]+/g, ' ')

async function api(t: TestApp, query: string) {
  const address = `/api/analysis/recurrence?component=Alternator&${query}`
  return (await scenario(t, { as: 'desk', get: address, expect: 200 })).body
}

describe('two groups compared', () => {
  test('differences as fractions by hand, with variances added up, at the ages of both', async () => {
    const t = await app()
    importRows(t.system, [...THREE, ...TWO])
    const { compare, difference } = await api(t, 'family=Haulette&compare_family=Tramp')
    expect(compare).toMatchObject({ family: 'Tramp', units: 2, events: 3 })
    const wanted: [at: number, difference: number, variance: number][] = [
      [1, 1 / 3, 6 / 81],
      [5, 1 / 6, 6 / 81 + 1 / 8],
      [8, 5 / 6, 24 / 81 + 1 / 8],
      [9, -1 / 6, 24 / 81 + 1 / 8],
      [16, 1 / 3, 163 / 216 + 1 / 8],
    ]
    expect([difference.from, difference.until, difference.points.length]).toEqual([0, 18, wanted.length])
    wanted.forEach(([at, byHand, variance], place) => {
      const point = difference.points[place]
      expect(point.at).toBe(at)
      expect(point.difference).toBeCloseTo(byHand, 12)
      expect(point.se ** 2).toBeCloseTo(variance, 12)
      expect(point.lower).toBeCloseTo(byHand - Z * Math.sqrt(variance), 12)
      expect(point.upper).toBeCloseTo(byHand + Z * Math.sqrt(variance), 12)
    })
    const byDistance = await api(t, 'family=Haulette&compare_family=Tramp&clock=distance')
    expect(byDistance.difference.points.map((point: { at: number }) => point.at)).toEqual([1, 5, 8, 9, 16])
  })

  test('the page says whether they can be told apart, draws it, and has the figures beside it', async () => {
    const t = await app()
    importRows(t.system, [...THREE, ...TWO])
    const text = await read(t, 'family=Haulette&compare_family=Tramp')
    expect(text).toContain('Cannot tell: at no age with a repair were five vehicles of each still watched.')
    expect(text).toMatch(/ 9 3 and 2 −0\.167 0\.649 −1\.44 to 1\.11 /)
    expect(text).not.toContain('less that of Tramp')
    expect(text).toContain(
      'Beside it, Tramp: 3 times on 2 vehicles. Cannot tell how often a vehicle has it: at no age were five vehicles watched.',
    )
    const many = Array.from({ length: 12 }, (_, at) => [
      ...life(`C${at}`, 'Ardeck', 30, 3 + (at % 5), 20),
      ...life(`D${at}`, 'Pikko', 30, ...(at < 2 ? [9] : [])),
    ]).flat()
    importRows(t.system, many)
    expect(await read(t, 'family=Ardeck&compare_family=Pikko')).toMatch(
      /By 20 days a vehicle of Ardeck has had it 1\.83 times more than one of Pikko \(1\.6\d to 2\.0\d\)\./,
    )
    expect(await read(t, 'family=Ardeck&compare_family=Pikko')).toContain('Alternator, Ardeck, less that of Pikko')
    expect(await read(t, 'family=Pikko&compare_family=Ardeck')).toMatch(
      /By 20 days a vehicle of Ardeck has had it 1\.83 times more than one of Pikko \(1\.6\d to 2\.0\d\)\./,
    )
  })

  test('says it of the last age at which five of each were watched, and that they cannot be told apart', async () => {
    const t = await app()
    const lives = Array.from({ length: 6 }, (_, at) => [
      ...life(`C${at}`, 'Ardeck', at === 0 ? 30 : 15, ...(at < 4 ? [8] : []), ...(at === 0 ? [20] : [])),
      ...life(`D${at}`, 'Pikko', at === 0 ? 30 : 15, ...(at < 3 ? [9] : [])),
    ])
    importRows(t.system, lives.flat())
    // at 9 days 4 of 6 and 3 of 6: variance (4·2 + 3·3)/6³
    const se = Math.sqrt(17 / 216)
    const [lower, upper] = [1 / 6 - Z * se, 1 / 6 + Z * se].map(limit => limit.toFixed(2).replace('-', '−'))
    expect(await read(t, 'family=Ardeck&compare_family=Pikko')).toContain(
      `By 9 days the two cannot be told apart: 0.17 times more on Ardeck (${lower} to ${upper}), which takes in no difference.`,
    )
  })

  test('counts from the age at which both are watched: late comers say nothing of what came before', async () => {
    const t = await app()
    // registered long before it was seen first: at risk from its 6th day on, with failures on the 7th and the 16th
    const late = [6, 7, 16, 17].map(age => ({
      ...{ vehicle: 'L', family: 'Ardeck', date: addDays(START, age), distance: age },
      ...(age === 6 || age === 17 ? { event: 'seen', component: '' } : { event: 'failure', component: 'Alternator' }),
      first_registered_on: START,
    }))
    importRows(t.system, [...THREE.map(row => ({ ...row, first_registered_on: '' })), ...late])
    const { difference } = await api(t, 'family=Haulette&compare_family=Ardeck')
    expect([difference.from, difference.until]).toEqual([6, 17])
    // of three at risk two repair at 8, of two one at 16; of the other, one of one at 7 and at 16
    expect(difference.points.map((point: { at: number; difference: number }) => [point.at, point.difference])).toEqual([
      [7, -1],
      [8, 2 / 3 - 1],
      [16, 2 / 3 + 1 / 2 - 2],
    ])
    expect(difference.points.map((point: { at_risk: number[] }) => point.at_risk)).toEqual([
      [3, 1],
      [3, 1],
      [2, 1],
    ])
    expect(await read(t, 'family=Ardeck')).toContain('No vehicle was watched before 6 days')
    importRows(t.system, life('M', 'Pikko', 5, 2))
    expect(await read(t, 'family=Pikko&compare_family=Ardeck')).toContain(
      'Cannot tell: there is no age at which vehicles of both were watched.',
    )
  })

  test('variants of one family, as they are named on the vehicles', async () => {
    const t = await app()
    importRows(t.system, [...THREE, ...TWO.map(row => ({ ...row, family: 'Haulette' }))])
    for (const vehicle of ['A1', 'A2', 'A3']) name(t, vehicle, 'cable clutch')
    for (const vehicle of ['B1', 'B2']) name(t, vehicle, 'hydraulic clutch')
    expect(await api(t, 'variant=Cable%20clutch')).toMatchObject({ units: 3, events: 5 })
    expect(await api(t, 'family=Haulette&variant=hydraulic%20clutch')).toMatchObject({ units: 2, events: 3 })
    const both = await api(t, 'family=Haulette&variant=cable%20clutch&compare_variant=hydraulic%20clutch')
    expect(both.compare).toMatchObject({ family: 'Haulette', variant: 'hydraulic clutch', units: 2 })
    expect(both.difference.points[0].difference).toBeCloseTo(1 / 3, 12)
    expect(await read(t, 'family=Haulette&variant=cable+clutch&compare_variant=hydraulic+clutch')).toContain(
      'Beside it, Haulette, hydraulic clutch: 3 times on 2 vehicles.',
    )
  })

  test('groups with vehicles in common are not compared, and one vehicle has no spread', async () => {
    const t = await app()
    importRows(t.system, [...THREE, ...TWO, ...life('E1', 'Solo', 12, 4), ...life('F1', 'Duo', 12, 6, 8)])
    name(t, 'A1', 'long')
    for (const query of [
      'compare_family=Tramp',
      'variant=long&compare_family=Haulette',
      'family=Tramp&compare_family=Tramp',
    ]) {
      expect(await api(t, query)).not.toHaveProperty('difference')
      expect(await read(t, query)).toContain('The two have vehicles in common')
    }
    expect(await read(t, 'family=Solo&compare_family=Duo')).toContain('Cannot tell: at no age with a repair')
  })

  test('refuses a variant that nobody has named', async () => {
    const t = await app()
    importRows(t.system, THREE)
    for (const name of ['variant', 'compare_variant'])
      await scenario(t, {
        ...{ as: 'desk', get: `/api/analysis/recurrence?component=Alternator&${name}=Nothing` },
        ...{ expect: 422, fields: [`/${name}`] },
      })
  })
})

describe('a curve that few vehicles carry', () => {
  test('is told of where five were watched, marked in the drawing beyond, and has no limits where all were alike', async () => {
    const t = await app()
    // five to 20 days, then two, at last one that breaks down again and again
    importRows(t.system, [
      ...Array.from({ length: 4 }, (_, at) =>
        life(`E${at}`, 'Ardeck', at === 0 ? 30 : 20, ...(at < 2 ? [9] : [])),
      ).flat(),
      ...life('E4', 'Ardeck', 40, 2, 12, 31, 32, 33, 34, 35),
    ])
    const html = await page(t, '/recurring/recurrence?component=Alternator&family=Ardeck', t.cookie('owner'))
    const text = html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
    // by hand: 1/5 + 2/5 + 1/5
    expect(text).toMatch(
      /9 times on 5 vehicles\. By 20 days a vehicle has had it 0\.80 times on average \(0\.\d\d to \d\.\d\d\)\./,
    )
    expect(text).toContain('At other ages fewer than five vehicles were watched.')
    const drawing = html.slice(html.indexOf('id="recurrence-wide-t"'), html.indexOf('</svg>'))
    expect(drawing).toContain('thin: under five watched')
    expect(drawing.match(/class="ink-line" d=/g)).toHaveLength(1)
    expect(drawing.match(/class="outline" d=/g)).toHaveLength(1)
  })

  test('of one vehicle has no limits that could be told', async () => {
    const t = await app()
    importRows(t.system, life('F1', 'Ardeck', 40, 2, 12))
    const text = await read(t, 'family=Ardeck')
    expect(text).toMatch(/ 2 1 1 1\.000 0\.000 cannot tell 12 1 1 2\.000 0\.000 cannot tell /)
    expect(text).toContain('Cannot tell how often a vehicle has it')
    // the analysis keeps its numbers
    expect((await api(t, 'family=Ardeck')).points[0]).toMatchObject({ mcf: 1, se: 0, lower: 1, upper: 1 })
  })
})

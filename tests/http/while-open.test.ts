import { describe, expect, test } from 'vitest'
import { createOperation } from '../../src/catalogue/index.ts'
import { recordFinding, recordLookResult } from '../../src/findings/index.ts'
import { addJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'
import { orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()

async function post(path: string, body: unknown, expected = 200, fields?: string[]) {
  const t = await app()
  return (
    await scenario(t, {
      as: 'technician',
      post: `/api/analysis/${path}`,
      body,
      key: null,
      expect: expected,
      ...(fields && { fields }),
    })
  ).body
}

describe('POST /api/analysis/while-open', () => {
  test('hours together and apart, and for each exposed component the sum of looking or leaving', async () => {
    const t = await app()
    const w = orderWorld(t)
    const remedy = createOperation(w.owner, {
      name: 'Hub seal: replace',
      hours: 0.3,
      access_step_ids: [w.hub],
      joints: [],
      looks: [],
      final_checks: [],
    }).id
    const seal = (await scenario(t, { as: 'desk', get: '/api/components', expect: 200 })).body.items.find(
      (one: { name: string }) => one.name === 'Hub seal',
    )
    const { headers } = await scenario(t, { as: 'desk', get: `/api/components/${seal.id}`, expect: 200 })
    await scenario(t, {
      as: 'owner',
      patch: `/api/components/${seal.id}`,
      body: { remedy_operation_id: remedy, remedy_part_minor: 1720, check_minutes: 4 },
      ifMatch: headers.etag ?? '',
      expect: 200,
    })
    const expose = async (step: string, component: string) => {
      const { headers: read } = await scenario(t, { as: 'desk', get: `/api/access-steps/${step}`, expect: 200 })
      await scenario(t, {
        as: 'owner',
        patch: `/api/access-steps/${step}`,
        body: { exposes: [component] },
        ifMatch: read.etag ?? '',
        expect: 200,
      })
    }
    await expose(w.hub, 'Hub seal')
    await expose(w.carrier, 'Brake hose')
    const job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
    recordLookResult(w.technician, job.looks[0]!.id, {
      finding_id: recordFinding(w.technician, {
        vehicle_id: w.vehicle,
        job_id: job.id,
        component: 'Brake hose',
        severity: 'safety',
        found_on: '2031-03-03',
      }).id,
    })
    const answer = await post('while-open', {
      family: 'Corvane Haulette B',
      operations: ['Rear wheel bearing: replace', 'Axle shaft boot: replace'],
    })
    // own hours 1 and 0.6; strip-down 0.3 + 0.4 + 0.9 + 1.1, of which the boot needs the first three
    expect(answer).toMatchObject({ hours_together: 4.3, hours_apart: 5.9 })
    expect(answer.looks.map((look: { component: string }) => look.component)).toEqual(['Brake hose', 'Hub seal'])
    const [hose, hub] = answer.looks
    // 60 an hour: 4 minutes; 0.3 h and the part; 2.7 h of strip-down again
    expect(hub).toMatchObject({
      n_looked: 0,
      n_bad: 0,
      cost_look_minor: 400,
      cost_now_minor: 1800 + 1720,
      cost_later_minor: 3520 + 16_200,
    })
    expect(hub.break_even_chance).toBeCloseTo(400 / 16_200, 12)
    // Beta(½ + 4·½, ½ + 4·½) without any look: half
    expect(hub.chance).toBeCloseTo(0.5, 12)
    expect(hub).toMatchObject({ severity: 'breakdown', asked_for: true })
    // Beta(½ + 1 + 4·¾, ½ + 4·¼) after one look that was bad
    expect(hose.chance).toBeCloseTo(4.5 / 6, 12)
    expect(hose).toMatchObject({ n_looked: 1, n_bad: 1, asked_for: true, cost_later_minor: 4200 })
  })

  test('refuses names that it does not know, and operations without hours', async () => {
    const t = await app()
    orderWorld(t)
    importRows(t.system, [{ vehicle: 'V', family: 'F', date: '2030-01-01', event: 'work', operation: 'Belt: renew' }])
    await post('while-open', { family: 'None', operations: ['Rear lamp bulb: replace'] }, 422, ['/family'])
    await post('while-open', { family: 'F', operations: ['Rear lamp bulb: replace', 'None'] }, 422, ['/operations/1'])
    await post('while-open', { family: 'F', operations: ['Belt: renew'] }, 422, ['/operations/0'])
    await post('while-open', { family: 'F', operations: [] }, 422, ['/operations'])
    expect(await post('while-open', { family: 'F', operations: ['Rear lamp bulb: replace'] })).toMatchObject({
      hours_together: 0.2,
      looks: [],
    })
  })
})

describe('GET /api/analysis/season', () => {
  test('counts months of the trouble and of all jobs, and where in the year it lies', async () => {
    const t = await app()
    const row = (date: string, more: Record<string, string>) => ({
      vehicle: date,
      family: 'F',
      date,
      component: '',
      symptom: '',
      operation: '',
      by: '',
      ...more,
    })
    const hum = (date: string) => row(date, { event: 'failure', component: 'Bearing', symptom: 'Hum' })
    const months = Array.from({ length: 12 }, (_, month) => String(month + 1).padStart(2, '0'))
    importRows(t.system, [
      ...['01', '02', '03', '04', '05', '06'].map(day => hum(`2030-01-${day}`)),
      ...months.flatMap(month =>
        [1, 2, 3].map(day => row(`2029-${month}-0${day}`, { event: 'work', by: 'us', operation: 'Service' })),
      ),
      row('2029-01-09', { event: 'work', by: 'other', operation: 'Service' }),
    ])
    const season = async (query: string) =>
      (await scenario(t, { as: 'desk', get: `/api/analysis/season?${query}`, expect: 200 })).body
    const answer = await season('symptom=Hum')
    expect(answer).toMatchObject({
      months: [6, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0],
      jobs: [3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3],
      peak_month: 1,
    })
    expect(answer.mean_direction_deg).toBeCloseTo(15, 10)
    expect(answer.resultant_length).toBeCloseTo(1, 12)
    expect(answer.p).toBeLessThan(0.001)
    expect(await season('component=Bearing')).toMatchObject({ months: answer.months, p: answer.p })
    const w = orderWorld(t)
    w.openOrder({ symptoms: ['Hum'] })
    expect((await season('symptom=Hum')).months.slice(0, 4)).toEqual([6, 0, 1, 0])
    expect((await season('symptom=Hum&component=Bearing')).months.slice(0, 4)).toEqual([6, 0, 0, 0])
  })

  test('says p = 1 where there is nothing, and refuses what it does not know', async () => {
    const t = await app()
    orderWorld(t)
    const get = (query: string, expected: number, fields?: string[]) =>
      scenario(t, { as: 'desk', get: `/api/analysis/season?${query}`, expect: expected, ...(fields && { fields }) })
    expect((await get('component=Hub%20seal', 200)).body).toMatchObject({ p: 1, peak_month: null })
    await get('', 422, ['/symptom'])
    await get('symptom=None', 422, ['/symptom'])
    await get('component=None', 422, ['/component'])
  })
})

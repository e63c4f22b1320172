import { beforeEach, describe, expect, test } from 'vitest'
import { askForLook, createComponent, operationById } from '../../src/catalogue/index.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

describe('what if we looked each time', () => {
  let t: TestApp
  let query: string
  let w: ComebackWorld

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
    createComponent(w.owner, {
      ...{ name: 'Lamp contact', severity: 'nuisance', causes: [], check_minutes: 2, access_step_ids: [] },
    })
    const first = w.finish(w.order)
    const back = w.later(30)
    recordFinding(w.technician, {
      ...{ vehicle_id: w.vehicle, component: 'Lamp contact', failure_mode: 'corroded', severity: 'nuisance' },
      found_on: new Date(t.clock.now()).toISOString().slice(0, 10),
    })
    await w.decide({ earlier_job_id: first, later_work_order_id: back, borne_by: 'us' })
    w.finish(back)
    w.later(335)
    const { name } = operationById(w.owner, w.operations.bulb)
    query = new URLSearchParams({ operation: name, component: 'Lamp contact', minutes: '6' }).toString()
  })

  test('counts the jobs, and the comebacks in whose stay it was found failed', async () => {
    const { body } = await scenario(t, { as: 'owner', get: `/api/analysis/what-if?${query}`, expect: 200 })
    // two jobs in 365 days; the second one never came back
    expect(body).toMatchObject({ jobs: 2, caught: 1 })
    expect(body.years).toBeCloseTo(365 / 365.25, 12)
    expect(body.minutes_a_year).toBeCloseTo((2 * 6 * 365.25) / 365, 9)
    const another = query.replace('Lamp+contact', 'Wheel+seal')
    await scenario(t, { as: 'owner', get: `/api/analysis/what-if?${another}`, expect: 422, fields: ['/component'] })
    for (const minutes of ['0', '-1', '601', 'x'])
      await scenario(t, {
        ...{ as: 'owner', get: `/api/analysis/what-if?${query.replace('minutes=6', `minutes=${minutes}`)}` },
        ...{ expect: 422, fields: ['/minutes'] },
      })
  })

  test('offers the look only where it is not asked for yet', async () => {
    const asked = () => page(t, `/comebacks/what-if?${query}`, t.cookie('owner'))
    expect(await asked()).toContain('Put the look on the operation')
    const { id, version } = operationById(w.owner, w.operations.bulb)
    askForLook(w.owner, id, version, 'Lamp contact')
    const now = await asked()
    expect(now).toContain('Every job of it asks for this look already.')
    expect(now).not.toContain('Put the look on the operation')
  })

  test('says it in words', async () => {
    const html = (await page(t, `/comebacks/what-if?${query}`, t.cookie('owner'))).replace(/<[^>]*>/g, ' ')
    expect(html).toMatch(/0\.2 hours a year: €8\.01 a year at the cost rate/)
    expect(html).toMatch(/They cost us €0\.00 a year\./)
    expect(html).toMatch(/2 jobs in 1\.0 years; 1 of them came back with it failed/)
    expect(html).toMatch(/1\.0 comebacks a year \(0\.0 to 5\.6\) at best/)
    expect(await page(t, '/comebacks/what-if', t.cookie('desk'))).toContain('Work it out')
  })
})

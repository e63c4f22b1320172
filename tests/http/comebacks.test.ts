import { beforeEach, describe, expect, test } from 'vitest'
import { createComponent, createOperation } from '../../src/catalogue/index.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { forgetTouched } from '../../src/platform/database/touched-rows.ts'
import { addJob, completeJob, openStep, planOfOrder, putToolIn } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
describe('GET /api/suspicions', () => {
  let t: TestApp
  let w: ComebackWorld

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
  })

  test('the same symptom within the window; not after it, not with another symptom, not on another vehicle', async () => {
    const job = w.finish(w.order)
    const other = w.later(20, { symptoms: ['Rattle'] })
    const same = w.later(21)
    const found = await w.suspicions()
    expect(found).toMatchObject([
      {
        earlier_job_id: job,
        later_work_order_id: same,
        vehicle_id: w.vehicle,
        reasons: ['same_symptom'],
        days_after: 41,
        like_this: { confirmed: 0, decided: 0 },
        chance: null,
      },
    ])
    expect(found[0].sentences).toEqual([
      'Came in 41 days after “Rear lamp bulb: replace” (work order 2031-0001).',
      'The same symptom: Hum from the rear.',
    ])
    expect(await w.suspicions(`?work_order_id=${other}`)).toEqual([])
    expect(await w.suspicions(`?vehicle_id=${w.vehicle}`)).toHaveLength(1)
    const tooLate = w.later(330)
    expect((await w.suspicions()).map((one: { later_work_order_id: string }) => one.later_work_order_id)).not.toContain(
      tooLate,
    )
  })

  test('the same component, found failed again', async () => {
    const first = addJob(w.desk, w.order, { operation_id: w.operations.bulb }).id
    const finding = {
      vehicle_id: w.vehicle,
      component: 'Hub seal',
      severity: 'breakdown',
      found_on: '2031-03-03',
    } as const
    recordFinding(w.technician, { ...finding, job_id: first })
    completeJob(w.technician, first, {})
    w.giveBack(w.order)
    const order = w.later(10, { symptoms: [] })
    expect(await w.suspicions()).toEqual([])
    const job = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    recordFinding(w.technician, { ...finding, job_id: job })
    const [suspicion] = await w.suspicions()
    expect(suspicion).toMatchObject({ earlier_job_id: first, reasons: ['same_component'] })
    expect(suspicion.sentences[1]).toBe('The same component again: Hub seal.')
  })

  test('strip-down that disturbed what causes the symptom, by the catalogue and by a finding', async () => {
    const { id: disturbing } = (
      await scenario(t, {
        as: 'owner',
        post: '/api/access-steps',
        body: { name: 'Caliper off', hours: 0.2, needs: [w.wheel], exposes: [], disturbs: ['Brake hose'] },
        expect: 201,
      })
    ).body
    const operation = createOperation(w.owner, {
      ...{
        name: 'Brake pads: replace',
        hours: 0.5,
        access_step_ids: [disturbing],
        joints: [],
        looks: [],
        final_checks: [],
      },
    }).id
    const job = addJob(w.desk, w.order, { operation_id: operation })
    for (const step of planOfOrder(t.system, w.order).steps) openStep(w.technician, job.id, step.access_step_id, {})
    for (const step of [...planOfOrder(t.system, w.order).steps].reverse()) {
      await scenario(t, {
        as: 'technician',
        post: `/api/jobs/${job.id}/steps/${step.access_step_id}/closings`,
        body: {},
        expect: 201,
      })
    }
    w.giveBack(w.order)
    w.later(5, { symptoms: ['Soft pedal'] })
    expect(await w.suspicions()).toEqual([])
    recordFinding(w.technician, {
      vehicle_id: w.vehicle,
      component: 'Brake hose',
      severity: 'safety',
      found_on: '2031-03-08',
      symptom: 'Soft pedal',
    })
    const [suspicion] = await w.suspicions()
    expect(suspicion.reasons).toContain('disturbed')
    expect(suspicion.sentences).toContain('That job disturbed the brake hose, which can cause: Soft pedal.')
  })

  test('a pair that is often followed by what causes the symptom, learned from an imported history', async () => {
    const rows = Array.from({ length: 10 }, (_, number) => {
      const row = { vehicle: `V${number}`, family: 'Haulette', component: '', operation: '', by: '' }
      const belt = { ...row, date: '2030-03-02', event: 'work', by: 'us', operation: 'Belt: renew' }
      const failed = { ...row, date: '2030-04-21', event: 'failure', component: 'Bearing' }
      const life = [
        { ...row, date: '2029-01-01', event: 'in_service' },
        { ...row, date: '2031-01-01', event: 'seen' },
      ]
      return number < 5 ? [...life, belt, failed] : life
    }).flat()
    importRows(t.system, rows)
    createComponent(w.owner, {
      name: 'Hub',
      severity: 'breakdown',
      causes: ['Hum from the rear'],
      check_minutes: 5,
      access_step_ids: [],
    })
    const operation = t.system.store.raw
      .prepare("select id from operations where name = 'Belt: renew'")
      .pluck()
      .get() as string
    const order = w.openOrder({ symptoms: ['Rattle'] })
    w.finish(order, operation, { hours: 1 })
    w.later(30)
    expect(await w.suspicions()).toEqual([])
    const bearing = t.system.store.raw
      .prepare("select id from components where name = 'Bearing'")
      .pluck()
      .get() as string
    const { headers, body } = await scenario(t, { as: 'owner', get: `/api/components/${bearing}`, expect: 200 })
    expect(body.causes).toEqual([])
    await scenario(t, {
      as: 'owner',
      patch: `/api/components/${bearing}`,
      body: { causes: ['Hum from the rear'] },
      ifMatch: headers.etag ?? '',
      expect: 200,
    })
    const [suspicion] = await w.suspicions()
    expect(suspicion.reasons).toEqual(['known_pair'])
    expect(suspicion.sentences[1]).toBe(
      'That job is often followed by trouble with the bearing, which can cause: Hum from the rear.',
    )
  })

  test('our work in an imported history is an earlier job, too', async () => {
    importRows(t.system, [
      {
        vehicle: 'QH 1',
        family: 'Haulette',
        date: '2031-02-01',
        event: 'work',
        by: 'us',
        operation: 'Belt: renew',
        symptom: 'Hum from the rear',
      },
      {
        vehicle: 'QH 1',
        family: 'Haulette',
        date: '2031-02-02',
        event: 'work',
        by: 'other',
        operation: 'Belt: renew',
        symptom: 'Hum from the rear',
      },
    ])
    const { raw } = t.system.store
    const vehicle_id = raw.prepare("select id from vehicles where imported_as = 'QH 1'").pluck().get() as string
    const event = raw.prepare("select id from history_events where by = 'us'").pluck().get() as string
    const order = w.openOrder({ vehicle_id })
    expect(await w.suspicions(`?work_order_id=${order}`)).toMatchObject([
      { earlier_job_id: event, reasons: ['same_symptom'], days_after: 30 },
    ])
    await w.decide({ earlier_job_id: event, later_work_order_id: order })
    expect(await w.suspicions(`?work_order_id=${order}`)).toEqual([])
    expect(await w.rates('by=operation')).toMatchObject([{ key: 'Belt: renew', still_open: { jobs: 1, comebacks: 1 } }])
  })

  test('a job whose tool was never written out', async () => {
    const job = w.finish(w.order)
    t.system.store.raw.exec('drop trigger tools_in_never_changed')
    const order = w.later(3, { symptoms: [] })
    expect(await w.suspicions()).toEqual([])
    const tool = putToolIn(w.technician, addJob(w.desk, order, { operation_id: w.operations.bulb }).id, {
      tool: 'Holding plate no. 3',
    })
    t.system.store.raw.prepare('update tools_in set job_id = ? where id = ?').run(job, tool.id)
    forgetTouched(t.system.store.raw)
    const [suspicion] = await w.suspicions()
    expect(suspicion.reasons).toEqual(['open_nonconformity'])
    expect(suspicion.sentences[1]).toBe('The tool “Holding plate no. 3” of that job was never written out.')
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { createComponent, createOperation } from '../../src/catalogue/index.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { addJob, authoriseAmount, completeJob, openStep, planOfOrder, putToolIn } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
const DAY = 24 * 60 * 60 * 1000

interface Group {
  key: string
  jobs: number
  comebacks: number
  rate: number | null
  lower: number | null
  upper: number | null
  limit_lower: number | null
  limit_upper: number | null
  still_open: { jobs: number; comebacks: number }
}

async function rates(query: string): Promise<Group[]> {
  const t = await app()
  return (await scenario(t, { as: 'desk', get: `/api/analysis/comeback-rate?${query}`, expect: 200 })).body.groups
}

describe('GET /api/analysis/comeback-rate', () => {
  /** `jobs` of our work handed back on one day, of which the first `back` came back `after` days later. */
  function work(month: string, jobs: number, back: number, more: Record<string, string> = {}, after = 20) {
    return Array.from({ length: jobs }, (_, place) => {
      const vehicle = `${month} ${more.operation ?? ''} ${place}`
      const id = vehicle
      const row = {
        vehicle,
        family: 'Haulette',
        operation: 'Belt: renew',
        warranty_days: '90',
        comeback_of: '',
        id: '',
        component: '',
        ...more,
      }
      const came = new Date(Date.UTC(Number(month.slice(0, 4)), Number(month.slice(5, 7)) - 1, 1 + after))
        .toISOString()
        .slice(0, 10)
      return [
        { ...row, date: `${month}-01`, event: 'work', by: 'us', id },
        ...(place < back
          ? [{ ...row, date: came, event: 'failure', by: '', component: 'Bearing', comeback_of: id }]
          : []),
      ]
    }).flat()
  }

  test('counts by month, with Wilson limits and binomial limits at the rate of the twelve months before', async () => {
    const { system } = await app()
    importRows(system, [...work('2029-06', 40, 2), ...work('2030-01', 20, 3)])
    const groups = await rates('by=month&from=2029-06-01&to=2030-12-31')
    expect(groups.map(({ key, jobs, comebacks }) => [key, jobs, comebacks])).toEqual([
      ['2029-06', 40, 2],
      ['2030-01', 20, 3],
    ])
    expect(groups[0]).toMatchObject({
      rate: 0.05,
      limit_lower: null,
      limit_upper: null,
      still_open: { jobs: 0, comebacks: 0 },
    })
    // Newcombe (1998) Statistics in Medicine 17:857-872, method 3, worked out by hand: (2np + z² ± z·√(z² + 4npq)) / 2(n + z²)
    const z = 1.959963984540054
    const half = z * Math.sqrt(z * z + 4 * 20 * 0.15 * 0.85)
    expect(groups[1]?.lower).toBeCloseTo((2 * 3 + z * z - half) / (2 * (20 + z * z)), 12)
    expect(groups[1]?.upper).toBeCloseTo((2 * 3 + z * z + half) / (2 * (20 + z * z)), 12)
    // at the earlier rate of 2 in 40 the smallest x of 20 with P(X ≥ x) ≤ 0.00135 is 6: P(5) = 0.00257, P(6) = 0.00033
    expect(groups[1]).toMatchObject({ limit_lower: null, limit_upper: 6 / 20 })
  })

  test('younger jobs stand beside the rate as still open, with the comebacks among them', async () => {
    const { system } = await app()
    importRows(system, [...work('2030-10', 3, 1), ...work('2031-01', 4, 2)])
    // on 3 March 2031 the jobs of 1 January have been out 61 of 90 days
    expect(await rates('by=operation')).toMatchObject([
      { key: 'Belt: renew', jobs: 3, comebacks: 1, still_open: { jobs: 4, comebacks: 2 } },
    ])
    expect(await rates('by=operation&as_of=2031-04-01')).toMatchObject([{ jobs: 7, comebacks: 3 }])
    expect(await rates('by=operation&as_of=2031-03-31')).toMatchObject([{ jobs: 3, still_open: { jobs: 4 } }])
    expect(await rates('by=operation&as_of=2031-01-20')).toMatchObject([{ still_open: { jobs: 4, comebacks: 0 } }])
  })

  test('a comeback counts once, within the window only, and only of our own work', async () => {
    const { system } = await app()
    const base = {
      vehicle: 'V',
      family: 'F',
      operation: 'Belt: renew',
      warranty_days: '30',
      comeback_of: '',
      id: '',
      by: 'us',
    }
    importRows(system, [
      { ...base, date: '2030-01-01', event: 'work', id: 'a' },
      { ...base, date: '2030-01-10', event: 'work', comeback_of: 'a', id: 'b' },
      { ...base, date: '2030-01-20', event: 'work', comeback_of: 'a' },
      { ...base, date: '2030-03-01', event: 'work', comeback_of: 'b' },
      { ...base, date: '2030-03-01', event: 'work', by: 'other' },
      { ...base, date: '', event: 'work' },
    ])
    // four dated jobs of ours; the first came back in time (twice), the second only after 50 days
    expect(await rates('by=family')).toMatchObject([{ key: 'F', jobs: 4, comebacks: 1 }])
  })

  test('a term that a row does not state is the setting', async () => {
    const { system } = await app()
    patchSettings(system, { warranty_days: 10 }, 0)
    importRows(system, work('2031-02', 2, 2, { warranty_days: '' }))
    expect(await rates('by=operation')).toMatchObject([{ jobs: 2, comebacks: 0 }])
  })

  test('by cause the jobs are all of the period', async () => {
    // at 5 in 50 the smallest x of 10 with P(X ≥ x) ≤ 0.00135 is 6: P(5) = 0.00163, P(6) = 0.00015
    const { system } = await app()
    importRows(system, [...work('2030-01', 10, 2), ...work('2029-02', 50, 5)])
    expect(await rates('by=cause&from=2030-01-01')).toMatchObject([
      { key: '', jobs: 10, comebacks: 2, limit_upper: 6 / 10 },
    ])
    expect(await rates('by=supplier')).toEqual([])
  })

  test.each([
    ['by=day', '/by'],
    ['from=2031-13-01', '/from'],
    ['from=2031-02-01&to=2031-01-31', '/to'],
    ['limit=3', '/limit'],
  ])('?%s is refused', async (query, pointer) => {
    await scenario(await app(), {
      as: 'desk',
      get: `/api/analysis/comeback-rate?${query}`,
      expect: 422,
      fields: [pointer],
    })
  })

  test('the earliest day that can be written is no trouble', async () => {
    const { system } = await app()
    importRows(system, work('0000-01', 1, 0))
    expect(await rates('by=month&from=0000-01-01&as_of=9999-12-31')).toMatchObject([{ key: '0000-01', jobs: 1 }])
    expect(await rates('by=family&from=0000-01-01')).toMatchObject([{ limit_upper: null }])
  })
})

describe('suspicions and decisions', () => {
  let t: TestApp
  let w: OrderWorld

  beforeEach(async () => {
    t = await app()
    w = orderWorld(t)
  })

  /** Does the bulb job, or another without a plan, on an order and hands it back. */
  function finish(order: string, operation = w.operations.bulb, hours: { hours?: number } = {}): string {
    const job = addJob(w.desk, order, { operation_id: operation, ...hours }).id
    completeJob(w.technician, job, {})
    authoriseAmount(w.desk, order, {
      amount_minor: 1_000_000,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
      at: new Date(t.clock.now()).toISOString(),
    })
    handBack(w.desk, order, {})
    return job
  }

  function later(days: number, more: Parameters<OrderWorld['openOrder']>[0] = {}): string {
    t.clock.set(t.clock.now() + days * DAY)
    return w.openOrder(more)
  }

  async function suspicions(query = '') {
    return (await scenario(t, { as: 'desk', get: `/api/suspicions${query}`, expect: 200 })).body.items
  }

  test('the same symptom within the window; not after it, not with another symptom, not on another vehicle', async () => {
    const job = finish(w.order)
    const other = later(20, { symptoms: ['Rattle'] })
    const same = later(21)
    const found = await suspicions()
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
    expect(await suspicions(`?work_order_id=${other}`)).toEqual([])
    expect(await suspicions(`?vehicle_id=${w.vehicle}`)).toHaveLength(1)
    const tooLate = later(330)
    expect((await suspicions()).map((one: { later_work_order_id: string }) => one.later_work_order_id)).not.toContain(
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
    authoriseAmount(w.desk, w.order, {
      amount_minor: 1_000_000,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
      at: new Date(t.clock.now()).toISOString(),
    })
    handBack(w.desk, w.order, {})
    const order = later(10, { symptoms: [] })
    expect(await suspicions()).toEqual([])
    const job = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    recordFinding(w.technician, { ...finding, job_id: job })
    const [suspicion] = await suspicions()
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
    authoriseAmount(w.desk, w.order, {
      amount_minor: 1_000_000,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
      at: new Date(t.clock.now()).toISOString(),
    })
    handBack(w.desk, w.order, {})
    later(5, { symptoms: ['Soft pedal'] })
    expect(await suspicions()).toEqual([])
    recordFinding(w.technician, {
      vehicle_id: w.vehicle,
      component: 'Brake hose',
      severity: 'safety',
      found_on: '2031-03-08',
      symptom: 'Soft pedal',
    })
    const [suspicion] = await suspicions()
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
    finish(order, operation, { hours: 1 })
    later(30)
    expect(await suspicions()).toEqual([])
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
    const [suspicion] = await suspicions()
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
    expect(await suspicions(`?work_order_id=${order}`)).toMatchObject([
      { earlier_job_id: event, reasons: ['same_symptom'], days_after: 30 },
    ])
    await decide({ earlier_job_id: event, later_work_order_id: order })
    expect(await suspicions(`?work_order_id=${order}`)).toEqual([])
    expect(await rates('by=operation')).toMatchObject([{ key: 'Belt: renew', still_open: { jobs: 1, comebacks: 1 } }])
  })

  async function decide(
    more: object,
    wanted: { as?: 'owner' | 'desk'; expect?: number; problem?: string; fields?: string[] } = {},
  ) {
    const body = { decision: 'confirmed', why: 'The belt was set too tight.', root_cause: [], ...more }
    return (await scenario(t, { as: 'owner', post: '/api/comeback-decisions', body, expect: 201, ...wanted })).body
  }

  test('a decision takes it off the list, counts in the rate, and teaches what is like it', async () => {
    const job = finish(w.order)
    const first = later(41)
    const decided = await decide({
      earlier_job_id: job,
      later_work_order_id: first,
      category: 'tightening',
      root_cause: ['bearing worn', 'belt too tight'],
      borne_by: 'us',
    })
    expect(decided).toMatchObject({
      decision: 'confirmed',
      reasons: ['same_symptom'],
      category: 'tightening',
      borne_by: 'us',
    })
    expect(await suspicions()).toEqual([])
    const open = { key: '2031-03', still_open: { jobs: 1, comebacks: 1 } }
    expect(await rates('by=month')).toMatchObject([open])
    expect(await rates('by=cause')).toMatchObject([
      { key: 'tightening', jobs: 0, rate: null, still_open: { jobs: 1, comebacks: 1 } },
    ])
    later(10)
    expect(await suspicions()).toMatchObject([{ like_this: { confirmed: 1, decided: 1 }, chance: 1 }])
    const read = await scenario(t, { as: 'technician', get: `/api/comeback-decisions/${decided.id}`, expect: 200 })
    expect(read.body).toEqual(decided)
  })

  test('a changed mind supersedes, and both stay to be seen', async () => {
    const job = finish(w.order)
    const pair = { earlier_job_id: job, later_work_order_id: later(41) }
    const first = await decide(pair)
    await decide(pair, { expect: 409, problem: 'comeback-decided' })
    await decide({ ...pair, supersedes: 'another' }, { expect: 422, fields: ['/supersedes'] })
    const second = await decide({ ...pair, decision: 'ruled_out', why: 'A kerb.', supersedes: first.id })
    await decide({ ...pair, supersedes: first.id }, { expect: 422, fields: ['/supersedes'] })
    const { items } = (await scenario(t, { as: 'desk', get: '/api/comeback-decisions', expect: 200 })).body
    expect(items).toMatchObject([
      { id: second.id, supersedes: first.id },
      { id: first.id, superseded_by: second.id },
    ])
    expect(await rates('by=month')).toMatchObject([{ still_open: { jobs: 1, comebacks: 0 } }])
  })

  test('only the owner decides, and only on an earlier job of the same vehicle', async () => {
    const job = finish(w.order)
    const order = later(41)
    const pair = { earlier_job_id: job, later_work_order_id: order }
    await decide(pair, { as: 'desk', expect: 403, problem: 'role-not-allowed' })
    await decide({ ...pair, earlier_job_id: 'none' }, { expect: 422, fields: ['/earlier_job_id'] })
    await decide({ ...pair, later_work_order_id: 'none' }, { expect: 422, fields: ['/later_work_order_id'] })
    await decide({ ...pair, later_work_order_id: w.order }, { expect: 422, fields: ['/later_work_order_id'] })
    const openJob = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    await decide({ ...pair, earlier_job_id: openJob }, { expect: 422, fields: ['/earlier_job_id'] })
    const [{ id: foreign }] = (await scenario(t, { as: 'desk', get: '/api/vehicles', expect: 200 })).body.items
    expect(foreign).toBe(w.vehicle)
    const otherVehicle = (
      await scenario(t, {
        as: 'desk',
        post: '/api/vehicles',
        body: { family: 'Pikko Tramp', odometer_unit: 'km' },
        expect: 201,
      })
    ).body.id
    await decide(
      { ...pair, later_work_order_id: w.openOrder({ vehicle_id: otherVehicle }) },
      { expect: 422, fields: ['/later_work_order_id'] },
    )
    await decide({ ...pair, decision: 'maybe', why: '' }, { expect: 422, fields: ['/decision', '/why', '/why'] })
    expect(await suspicions()).toHaveLength(1)
  })

  test('a job that was voided, or whose tool was never written out', async () => {
    const job = finish(w.order)
    t.system.store.raw.exec('drop trigger tools_in_never_changed')
    const order = later(3, { symptoms: [] })
    expect(await suspicions()).toEqual([])
    const tool = putToolIn(w.technician, addJob(w.desk, order, { operation_id: w.operations.bulb }).id, {
      tool: 'Holding plate no. 3',
    })
    t.system.store.raw.prepare('update tools_in set job_id = ? where id = ?').run(job, tool.id)
    t.system.store.raw.exec('delete from temp.touched')
    const [suspicion] = await suspicions()
    expect(suspicion.reasons).toEqual(['open_nonconformity'])
    expect(suspicion.sentences[1]).toBe('The tool “Holding plate no. 3” of that job was never written out.')
  })

  test('the page says it in sentences, takes the decision, and shows what was decided and changed', async () => {
    const job = finish(w.order)
    const order = later(41)
    const cookie = t.cookie('owner')
    const get = async (url: string) => (await t.app.inject({ url, headers: { cookie } })).body
    const text = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
    expect(text(await get('/comebacks'))).toContain(
      'The same symptom: Hum from the rear. None like this has been decided yet. Decide',
    )
    const address = `/comebacks/${job}/${order}`
    const post = async (fields: Record<string, string>) => {
      const key = /name="_key" value="([^"]*)"/.exec(await get(address))?.[1] ?? ''
      return t.app.inject({
        method: 'POST',
        url: address,
        headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
        payload: new URLSearchParams({ _key: key, ...fields }).toString(),
      })
    }
    const refused = await post({ decision: '', why: '', what_failed: 'the bearing' })
    expect(refused.statusCode).toBe(422)
    expect(text(refused.body)).toContain('Two things to put right')
    expect(refused.body).toContain('value="the bearing"')
    const taken = await post({
      decision: 'confirmed',
      why: 'Belt too tight.',
      category: 'tightening',
      what_failed: 'the bearing',
      why_failed: 'belt',
      borne_by: 'us',
    })
    expect([taken.statusCode, taken.headers.location]).toEqual([303, '/comebacks'])
    const changed = await post({ decision: 'ruled_out', why: 'A kerb.' })
    expect(changed.statusCode).toBe(303)
    const html = await get('/comebacks')
    expect(text(html)).toContain('Nothing is suspected that has not been decided.')
    expect(text(html)).toMatch(/Ruled out .* A kerb\./)
    expect(text(html)).toMatch(/Comeback, no longer .* Belt too tight\. tightening the bearing belt/)
    expect(html.match(/<tr class="signed">/g)).toHaveLength(1)
    expect(text(await get('/comebacks/rate'))).toContain('2031-03 0 of 0')
    expect((await t.app.inject({ url: `/comebacks/${job}/none`, headers: { cookie } })).statusCode).toBe(404)
    expect((await t.app.inject({ url: address, headers: { cookie: t.cookie('desk') } })).statusCode).toBe(403)
  })
})

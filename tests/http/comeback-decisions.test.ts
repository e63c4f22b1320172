import { beforeEach, describe, expect, test } from 'vitest'
import { addJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
describe('decisions on comebacks', () => {
  let t: TestApp
  let w: ComebackWorld

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
  })

  test('a decision takes it off the list, counts in the rate, and teaches what is like it', async () => {
    const job = w.finish(w.order)
    const first = w.later(41)
    const decided = await w.decide({
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
    expect(await w.suspicions()).toEqual([])
    const open = { key: '2031-03', still_open: { jobs: 1, comebacks: 1 } }
    expect(await w.rates('by=month')).toMatchObject([open])
    expect(await w.rates('by=cause')).toMatchObject([
      { key: 'tightening', jobs: 0, rate: null, still_open: { jobs: 1, comebacks: 1 } },
    ])
    w.later(10)
    expect(await w.suspicions()).toMatchObject([{ like_this: { confirmed: 1, decided: 1 }, chance: 1 }])
    const read = await scenario(t, { as: 'technician', get: `/api/comeback-decisions/${decided.id}`, expect: 200 })
    expect(read.body).toEqual(decided)
  })

  test('a changed mind supersedes, and both stay to be seen', async () => {
    const job = w.finish(w.order)
    const pair = { earlier_job_id: job, later_work_order_id: w.later(41) }
    const first = await w.decide(pair)
    await w.decide(pair, { expect: 409, problem: 'comeback-decided' })
    await w.decide({ ...pair, supersedes: 'another' }, { expect: 422, fields: ['/supersedes'] })
    const reason = 'The bill for the kerb was found.'
    await w.decide({ ...pair, reason }, { expect: 422, fields: ['/supersedes'] })
    const second = await w.decide({ ...pair, decision: 'ruled_out', why: 'A kerb.', supersedes: first.id, reason })
    expect(second).toMatchObject({ supersedes: first.id, reason })
    const url = `/comebacks/${pair.earlier_job_id}/${pair.later_work_order_id}`
    const { body } = await t.app.inject({ url, headers: { cookie: t.cookie('owner') } })
    expect(body).toContain(`Changed because: ${reason}`)
    await w.decide({ ...pair, supersedes: first.id }, { expect: 422, fields: ['/supersedes'] })
    const { items } = (await scenario(t, { as: 'desk', get: '/api/comeback-decisions', expect: 200 })).body
    expect(items).toMatchObject([
      { id: second.id, supersedes: first.id },
      { id: first.id, superseded_by: second.id },
    ])
    expect(await w.rates('by=month')).toMatchObject([{ still_open: { jobs: 1, comebacks: 0 } }])
  })

  test('only the owner decides, and only on an earlier job of the same vehicle', async () => {
    const job = w.finish(w.order)
    const order = w.later(41)
    const pair = { earlier_job_id: job, later_work_order_id: order }
    await w.decide(pair, { as: 'desk', expect: 403, problem: 'role-not-allowed' })
    await w.decide({ ...pair, earlier_job_id: 'none' }, { expect: 422, fields: ['/earlier_job_id'] })
    await w.decide({ ...pair, later_work_order_id: 'none' }, { expect: 422, fields: ['/later_work_order_id'] })
    await w.decide({ ...pair, later_work_order_id: w.order }, { expect: 422, fields: ['/later_work_order_id'] })
    const openJob = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    await w.decide({ ...pair, earlier_job_id: openJob }, { expect: 422, fields: ['/earlier_job_id'] })
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
    await w.decide(
      { ...pair, later_work_order_id: w.openOrder({ vehicle_id: otherVehicle }) },
      { expect: 422, fields: ['/later_work_order_id'] },
    )
    await w.decide({ ...pair, decision: 'maybe', why: '' }, { expect: 422, fields: ['/decision', '/why'] })
    expect(await w.suspicions()).toHaveLength(1)
  })

  test('the page says it in sentences, takes the decision, and shows what was decided and changed', async () => {
    const job = w.finish(w.order)
    const order = w.later(41)
    const cookie = t.cookie('owner')
    const get = async (url: string) => (await t.app.inject({ url, headers: { cookie } })).body
    const text = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
    expect(text(await get('/comebacks'))).toContain(
      'The same symptom: Hum from the rear. None with this reason alone has been decided yet. Decide',
    )
    expect(text(await get('/comebacks'))).toContain('1 stay to decide')
    const address = `/comebacks/${job}/${order}`
    const post = async (fields: Record<string, string>) => {
      const shown = await get(address)
      const hidden = (name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(shown)?.[1] ?? ''
      return t.app.inject({
        method: 'POST',
        url: address,
        headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
        payload: new URLSearchParams({ _key: hidden('_key'), supersedes: hidden('supersedes'), ...fields }).toString(),
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
    expect(text(await get(address))).toContain(
      'Belt too tight. (tightening) Root cause: the bearing; belt. Pays: we do.',
    )
    const decisions = () => t.deps.store.raw.prepare('select count(*) from comeback_decisions').pluck().get()
    const told = { decision: 'confirmed', why: 'Belt too tight.', category: 'tightening', borne_by: 'us' }
    const twice = await post({ ...told, what_failed: 'the bearing', why_failed: 'belt' })
    expect([twice.statusCode, decisions()]).toEqual([303, 1])
    expect(await get('/comebacks')).toContain('That is what was decided before: nothing has changed.')
    const unseen = await post({ ...told, why: 'A kerb.', supersedes: '' })
    expect([unseen.statusCode, decisions()]).toEqual([409, 1])
    expect(text(unseen.body)).toContain('This has been decided since you opened the page')
    expect(unseen.body).toContain('A kerb.</textarea>')
    const nobody = await post({ ...told, borne_by: '' })
    expect([nobody.statusCode, nobody.body.includes('Say who pays for the comeback.')]).toEqual([422, true])
    const two = await post({ ...told, other_category: 'the belt gauge' })
    expect([two.statusCode, decisions()]).toEqual([422, 1])
    expect(text(two.body)).toContain('Choose “tightening”, or leave it empty and write a word of your own; not both.')
    expect(two.body).toContain('value="the belt gauge"')
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

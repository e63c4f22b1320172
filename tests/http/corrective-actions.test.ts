import { beforeEach, describe, expect, test } from 'vitest'
import { createComponent } from '../../src/catalogue/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { addPartLine, completeJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

describe('what was changed after a comeback', () => {
  let t: TestApp
  let w: ComebackWorld
  let decision: string
  let operation: string

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
    operation = w.operations.bulb
    const pair = { earlier_job_id: w.finish(w.order), later_work_order_id: w.later(41) }
    decision = (await w.decide({ ...pair, category: 'missed_finding', borne_by: 'us' })).id
  })

  const body = (more: object = {}) => ({
    decision_ids: [decision],
    what: 'The contact is looked at each time.',
    done_on: '2031-04-10',
    ...more,
  })
  const post = (sent: object, wanted: object = { expect: 201 }) =>
    scenario(t, { as: 'owner', post: '/api/corrective-actions', body: sent, expect: 201, ...wanted })

  test('is kept with its causes, and says how it has worked', async () => {
    const made = (await post(body({ done_on: '2031-03-20' }))).body
    expect(made).toMatchObject({
      causes: ['missed_finding'],
      before: { jobs: 0, comebacks: 0, rate: null },
      after: { jobs: 0, comebacks: 0 },
      still_open: { jobs: 0, comebacks: 0 },
      ratio: null,
      says: 'cannot_tell',
      returned: 0,
    })
    expect(made.operations).toHaveLength(1)
    t.clock.set(t.clock.now() + 400 * 24 * 60 * 60 * 1000)
    const read = (await scenario(t, { as: 'desk', get: `/api/corrective-actions/${made.id}`, expect: 200 })).body
    expect(read).toMatchObject({ before: { jobs: 1, comebacks: 1, rate: 1 }, after: { jobs: 0 } })
    const list = (await scenario(t, { as: 'desk', get: '/api/corrective-actions', expect: 200 })).body
    expect(list.items).toEqual([read])
    await scenario(t, { as: 'desk', get: '/api/corrective-actions/none', expect: 404 })
  })

  test('puts a look on the operation, once, in the same act', async () => {
    createComponent(w.owner, {
      name: 'Wheel bearing',
      severity: 'safety',
      causes: [],
      check_minutes: 7,
      access_step_ids: [],
    })
    const adds_look = { operation_id: operation, component: 'Wheel bearing' }
    const made = (await post(body({ adds_look }), { events: 2 })).body
    expect(made.adds_look).toEqual(adds_look)
    const looks = async () =>
      (await scenario(t, { as: 'desk', get: `/api/operations/${operation}`, expect: 200 })).body.looks
    expect(await looks()).toMatchObject([{ component: 'Wheel bearing', severity: 'safety', minutes: 7 }])
    await post(body({ adds_look }), { events: 1 })
    expect(await looks()).toHaveLength(1)
    const fields = { expect: 422, events: 0 }
    await post(body({ adds_look: { ...adds_look, operation_id: 'none' } }), {
      ...fields,
      fields: ['/adds_look/operation_id'],
    })
    await post(body({ adds_look: { ...adds_look, component: 'No such thing' } }), {
      ...fields,
      fields: ['/adds_look/component'],
    })
  })

  test('is refused for what is no comeback, for a day to come, and for any but the owner', async () => {
    const refused = (sent: object, ...fields: string[]) => post(body(sent), { expect: 422, fields, events: 0 })
    await refused({ decision_ids: [] }, '/decision_ids')
    await refused({ decision_ids: ['none', decision, 'nor this'] }, '/decision_ids/0', '/decision_ids/2')
    await refused({ done_on: '2091-01-01' }, '/done_on')
    await refused({ reason: 'Just so.' }, '/reason')
    await refused({ supersedes: 'none' }, '/supersedes', '/reason')
    await post(body(), { as: 'desk', expect: 403 })
    const pair = { earlier_job_id: w.finish(w.later(2)), later_work_order_id: w.later(10) }
    const out = (await w.decide({ ...pair, decision: 'ruled_out' })).id
    await refused({ decision_ids: [out] }, '/decision_ids/0')
    const anew = (await w.decide({ ...pair, supersedes: out })).id
    await refused({ decision_ids: [out] }, '/decision_ids/0')
    await post(body({ decision_ids: [anew, anew] }))
  })

  test('a correction stands in its place, with the reason', async () => {
    const first = (await post(body())).body
    const second = (
      await post(body({ what: 'Renewed each time.', supersedes: first.id, reason: 'Looking was not enough.' }))
    ).body
    await post(body({ supersedes: first.id, reason: 'Again.' }), { expect: 422, fields: ['/supersedes'] })
    const { items } = (await scenario(t, { as: 'desk', get: '/api/corrective-actions', expect: 200 })).body
    expect(items).toMatchObject([
      { id: second.id, supersedes: first.id },
      { id: first.id, superseded_by: second.id },
    ])
  })

  describe('and what the supplier owes', () => {
    let supplier: string
    let line: string
    let again: string
    let later: string

    const claim = (more: object = {}) => ({
      decision_id: decision,
      supplier_id: supplier,
      amount_minor: 3000,
      deadline_on: '2031-06-30',
      state: 'claimed',
      ...more,
    })
    const claimed = (sent: object, wanted: object = {}) =>
      scenario(t, { as: 'owner', post: '/api/recoveries', body: sent, expect: 201, ...wanted })

    beforeEach(async () => {
      supplier = (
        await scenario(t, { as: 'desk', post: '/api/suppliers', body: { name: 'Pennant Spares' }, expect: 201 })
      ).body.id
      const part = (
        await scenario(t, {
          as: 'desk',
          post: '/api/parts',
          body: { number: 'PB-4', name: 'Bulb, four watt' },
          expect: 201,
        })
      ).body.id
      const fitted = (job: string) =>
        addPartLine(w.technician, job, {
          ...{ part_id: part, quantity: 1, batch: 'L-77', supplier_id: supplier },
          ...{ condition: 'new', cost_minor: 1200, price_minor: 2000 },
        }).id
      later = (await scenario(t, { as: 'desk', get: `/api/comeback-decisions/${decision}`, expect: 200 })).body
        .later_work_order_id
      again = (
        await scenario(t, {
          as: 'desk',
          post: `/api/work-orders/${later}/jobs`,
          body: { operation_id: operation },
          expect: 201,
        })
      ).body.id
      line = fitted(again)
    })

    /** Gives the returned vehicle back at our expense, and reads what the month says it cost. */
    async function costOfReturn(month: string) {
      completeJob(w.technician, again, {})
      handBack(w.desk, later, { borne_minor: 3840, borne_reason: 'Came back.' })
      const { figures } = (await scenario(t, { as: 'owner', get: `/api/month-reviews/${month}`, expect: 200 })).body
      return figures.comebacks.confirmed[0].cost
    }

    test('goes from the claim to the money, and the money comes off what the comeback cost', async () => {
      const first = (await claimed(claim({ part_line_id: line, kept_where: 'Shelf 3, red tag 12' }))).body
      expect(first).toMatchObject({ state: 'claimed', same_batch: [] })
      await claimed(claim({ state: 'paid', supersedes: first.id }), { expect: 422, fields: ['/reason'], events: 0 })
      const paid = (
        await claimed(claim({ state: 'paid', amount_minor: 2500, supersedes: first.id, reason: 'Credit note 88.' }))
      ).body
      await claimed(claim({ state: 'paid', supersedes: first.id, reason: 'Twice.' }), {
        expect: 422,
        fields: ['/supersedes'],
      })
      const { items } = (await scenario(t, { as: 'technician', get: '/api/recoveries', expect: 200 })).body
      expect(items).toMatchObject([{ id: paid.id }, { id: first.id, superseded_by: paid.id }])
      await scenario(t, { as: 'desk', get: `/api/recoveries/${first.id}`, expect: 200 })
      await scenario(t, { as: 'desk', get: '/api/recoveries/none', expect: 404 })
      // 0.2 h × 40.00 + one bulb at 12.00, less the credit note
      expect(await costOfReturn('2031-04')).toMatchObject({
        labour_minor: 800,
        parts_minor: 1200,
        recovered_minor: 2500,
        total_minor: -500,
      })
    })

    test('is refused for what does not fit, and for any but the owner', async () => {
      const refused = (sent: object, ...fields: string[]) => claimed(claim(sent), { expect: 422, fields, events: 0 })
      await refused({ decision_id: 'none' }, '/decision_id')
      await refused({ supplier_id: 'none' }, '/supplier_id')
      await refused({ amount_minor: -1 }, '/amount_minor')
      await refused({ deadline_on: '2031-02-30' }, '/deadline_on')
      await refused({ state: 'lost' }, '/state')
      await refused({ part_line_id: 'none' }, '/part_line_id')
      await refused({ reason: 'No claim before.' }, '/reason')
      await claimed(claim(), { as: 'desk', expect: 403, events: 0 })
    })
  })
})

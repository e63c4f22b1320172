import { beforeEach, describe, expect, test } from 'vitest'
import { settleDoubt } from '../../src/fastening/index.ts'
import { reportBatchFault } from '../../src/parts/index.ts'
import { addPartLine } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type DoubtWorld, doubtWorld } from '../support/doubt-world.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: DoubtWorld

beforeEach(async () => {
  t = await app()
  w = doubtWorld(t)
})

describe('what ends a doubt', () => {
  test('a record that is put right no longer counts; tightening again leaves the doubt to a person', async () => {
    const joint = w.joint()
    const record = w.tightenWith(joint, w.wrench)
    w.on(5)
    w.check(5, 'outside')
    expect(await w.open()).toEqual([[joint, 'wrench']])
    w.tightenWith(joint, w.W12)
    expect(await w.open()).toEqual([[joint, 'wrench']])
    w.tightenWith(joint, w.W12, { supersedes: record.id, reason: 'It was W-12, not W-11' })
    expect(await w.open()).toEqual([])
  })

  test('a person settles one cause of two; the other stands', async () => {
    const joint = w.tightened()
    w.on(5)
    w.check(5, 'outside')
    const batch = { part_id: w.part, quantity: 1, batch: '31-A07', condition: 'new' as const }
    const job = t.deps.store.raw.prepare('select job_id from job_joints where id = ?').pluck().get(joint) as string
    addPartLine(w.desk, job, { ...batch, cost_minor: 1, price_minor: 2, joint_id: joint })
    reportBatchFault(w.desk, w.part, { batch: '31-A07', reason: 'Soft' })
    const doubts = await w.doubts()
    expect(doubts).toHaveLength(2)
    const byWrench = doubts.find((doubt: { cause: string }) => doubt.cause === 'wrench')
    const url = `/api/doubts/${byWrench.id}/settlement`
    const body = { how: 'Tightened again with W-12', note: 'All at 25' }
    await scenario(t, { as: 'desk', post: url, body, expect: 403 })
    await scenario(t, { as: 'technician', post: url, body: {}, expect: 422, fields: ['/how'] })
    await scenario(t, { as: 'technician', post: url, body, expect: 201, events: 1 })
    await scenario(t, { as: 'technician', post: url, body, expect: 409, problem: 'doubt-settled' })
    await scenario(t, { as: 'technician', post: '/api/doubts/nobody/settlement', body, expect: 404 })
    expect(await w.open()).toEqual([[joint, 'batch']])
    expect((await scenario(t, { as: 'desk', get: `/api/doubts/${byWrench.id}`, expect: 200 })).body.settled).toEqual({
      ...body,
      at: '2031-03-05T08:00:00.000Z',
      by: w.technician.actor!.id,
    })
  })

  test('what was settled stays, though the record was put right since', async () => {
    const joint = w.joint()
    const record = w.tightenWith(joint, w.wrench)
    w.on(5)
    w.check(5, 'outside')
    settleDoubt(w.technician, (await w.doubts())[0].id, { how: 'Looked at' })
    w.tightenWith(joint, w.W12, { supersedes: record.id, reason: 'It was W-12' })
    expect(await w.doubts()).toMatchObject([{ joint_id: joint, settled: { how: 'Looked at' } }])
  })

  test('a good check settles all of a wrench at once, by a person, in one act', async () => {
    const joints = [w.tightened(), w.tightened(), w.tightened()]
    w.on(5)
    const cause_id = w.check(5, 'outside')
    settleDoubt(w.technician, (await w.doubts())[0].id, { how: 'Tightened again' })
    const url = '/api/doubts/settlements'
    const body = { cause: 'wrench', cause_id, how: 'Checked again: it was the test bench' }
    const post = (wanted: object) => scenario(t, { as: 'technician', post: url, body, expect: 409, ...wanted })
    await post({ problem: 'no-good-check' })
    w.on(8)
    w.check(8, 'good')
    await post({ as: 'desk', expect: 403 })
    await post({ body: { ...body, cause_id: 'none' }, expect: 422, fields: ['/cause_id'] })
    await post({ body: { ...body, cause: 'batch' }, expect: 422, fields: ['/cause_id'] })
    await post({ body: { ...body, how: undefined }, expect: 422, fields: ['/how'] })
    const done = (await post({ expect: 201, events: 1 })).body
    expect(done.settlements.map((row: { joint_id: string }) => row.joint_id)).toHaveLength(2)
    expect(await w.open()).toEqual([])
    expect((await w.doubts()).map((doubt: { joint_id: string }) => doubt.joint_id).sort()).toEqual(joints.sort())
    await post({ problem: 'doubt-settled' })
  })

  test('all of a batch at once takes the parts without a joint with it', async () => {
    const job = w.add('bulb').id
    const how = 'The maker has taken it back'
    const post = (cause_id: string, wanted: object) =>
      scenario(t, {
        ...{ as: 'owner', post: '/api/doubts/settlements', body: { cause: 'batch', cause_id, how }, expect: 201 },
        ...wanted,
      })
    const touchesNothing = reportBatchFault(w.desk, w.part, { batch: '31-A06', reason: 'Soft' }).id
    await post(touchesNothing, { expect: 422, fields: ['/cause_id'] })
    const line = { part_id: w.part, quantity: 1, batch: '31-A07', condition: 'new' as const }
    addPartLine(w.desk, job, { ...line, cost_minor: 1, price_minor: 2 })
    const fault = reportBatchFault(w.desk, w.part, { batch: '31-A07', reason: 'Soft' }).id
    expect((await post(fault, { events: 1 })).body).toMatchObject({ settlements: [], part_settlements: [{ how }] })
  })
})

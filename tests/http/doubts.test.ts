import { beforeEach, describe, expect, test } from 'vitest'
import { addProcedureRevision, type ProcedureRevisionInput, procedureRevisions } from '../../src/catalogue/index.ts'
import { recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { createPart } from '../../src/parts/index.ts'
import { recordGaugeCheck, registerGauge, sayDoubtedSince, withdrawWrench } from '../../src/tools/index.ts'
import { addPartLine } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type DoubtWorld, doubtWorld } from '../support/doubt-world.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'

const app = eachTestItsApp()
let t: TestApp
let w: DoubtWorld

beforeEach(async () => {
  t = await app()
  w = doubtWorld(t)
})

describe('a wrench found outside its limits', () => {
  test('puts in doubt what it touched since its last good check, until it is good again', async () => {
    const before = w.tightened()
    w.on(10)
    w.check(10, 'good')
    w.on(12)
    const between = w.tightened()
    const byAnother = w.tightened(w.order, w.W12)
    w.on(20)
    w.check(20, 'outside')
    w.on(25)
    w.check(25, 'good')
    w.on(26)
    const after = w.tightened()
    expect(await w.open()).toEqual([[between, 'wrench']])
    const [doubt] = await w.doubts()
    expect(doubt).toMatchObject({
      ...{ cause: 'wrench', because: 'wrench W-11', vehicle_id: w.vehicle, severity: 'breakdown', settled: null },
      ...{ since: '2031-03-12T08:00:00.000Z', known_at: '2031-03-20T08:00:00.000Z', work_order_number: '2031-0001' },
      sentence:
        'Drive flange on work order 2031-0001: wrench W-11, which tightened it, was found outside its limits on 20 March 2031.',
    })
    expect([before, byAnother, after]).not.toContain(doubt.joint_id)
  })

  test('and set right the same day still leaves in doubt what came before', async () => {
    const joint = w.tightened()
    w.on(10)
    w.check(10, 'outside')
    w.check(10, 'good')
    t.clock.set(t.clock.now() + 60_000)
    w.tightened()
    expect(await w.open()).toEqual([[joint, 'wrench']])
  })

  test('whose certificate comes late: what it touched meanwhile, not what was judged by it', async () => {
    w.on(7)
    const meanwhile = w.tightened()
    w.on(10)
    w.check(5, 'outside')
    const known = w.joint()
    expect(w.tightenWith(known, w.wrench).verdict).not.toBe('conforms')
    expect(await w.open()).toEqual([[meanwhile, 'wrench']])
  })

  test('is doubted from a known time on only, when a person says why; the newest word counts', async () => {
    const early = w.tightened()
    w.on(6)
    const late = w.tightened()
    w.on(10)
    const id = w.check(10, 'outside')
    const url = `/api/calibrations/${id}/doubted-since`
    const say = (at: string, wanted: object = {}) =>
      scenario(t, { as: 'technician', post: url, body: { at, reason: 'Fell.' }, expect: 201, events: 1, ...wanted })
    const refused = { expect: 422, events: 0, fields: ['/at'] }
    await say('2031-01-10T08:00:00.000Z', refused)
    await say('2031-03-11T08:00:00.000Z', refused)
    await say('2031-03-05T08:00:00.000Z', { as: 'desk', expect: 403, events: 0 })
    await scenario(t, { as: 'owner', post: url, body: { at: '2031-03-05T08:00:00.000Z' }, expect: 422 })
    const good = w.check(10, 'good', w.W12)
    await scenario(t, {
      as: 'owner',
      post: `/api/calibrations/${good}/doubted-since`,
      body: { at: '2031-03-05T08:00:00.000Z', reason: 'Fell' },
      expect: 422,
    })
    await scenario(t, { as: 'owner', get: '/api/calibrations/nobody/doubted-since', expect: 404 })
    await say('2031-03-05T08:00:00.000Z')
    expect(await w.open()).toEqual([[late, 'wrench']])
    expect((await w.doubts()).find((doubt: { joint_id: string }) => doubt.joint_id === early).settled).toMatchObject({
      how: 'It was tightened before 5 March 2031, 08:00, since when the wrench is doubted',
      note: 'Fell.',
    })
    await say('2031-03-02T08:00:00.000Z')
    expect(await w.open()).toHaveLength(2)
    const { body } = await scenario(t, { as: 'desk', get: url, expect: 200 })
    expect(body.items).toHaveLength(2)
  })
})

describe('a wrench that was dropped', () => {
  test('puts in doubt what it touched since, though it was written down late', async () => {
    const before = w.tightened()
    w.on(6)
    const since = w.tightened()
    w.on(7)
    withdrawWrench(w.technician, w.wrench, { at: '2031-03-05T12:00:00.000Z', reason: 'Fell off the lift' })
    expect(await w.open()).toEqual([[since, 'wrench']])
    const [{ sentence, joint_id }] = await w.doubts()
    expect(sentence).toContain('since 5 March 2031, 12:00: Fell off the lift.')
    expect(joint_id).not.toBe(before)
  })

  test('and was checked and good before anybody wrote of it: nothing is in doubt', async () => {
    w.on(6)
    w.tightened()
    w.on(8)
    w.check(8, 'good')
    w.on(9)
    withdrawWrench(w.technician, w.wrench, { at: '2031-03-05T12:00:00.000Z', reason: 'Fell off the lift' })
    expect(await w.open()).toEqual([])
  })
})

describe('other causes', () => {
  test('a gauge found outside its limits: the angles that were read from it', async () => {
    const gauge = registerGauge(w.owner, { name: 'G-02', kind: 'angle_gauge', uncertainty_deg: 1 }).id
    const joint = jointWith(t, w)
    recordTorque(w.technician, joint, reading(w, 1, 1, 25, { made_at: undefined }))
    recordTorque(w.technician, joint, reading(w, 1, 2, 90, { made_at: undefined, gauge_id: gauge }))
    const other = jointWith(t, w)
    recordTorque(w.technician, other, reading(w, 1, 1, 25, { made_at: undefined }))
    w.on(5)
    const check = { made_on: '2031-03-05', certificate: 'G-9', found: 'outside' as const }
    const { id } = recordGaugeCheck(w.owner, gauge, check)
    expect(await w.open()).toEqual([[joint, 'wrench']])
    expect((await w.doubts())[0]).toMatchObject({ cause_id: id, because: 'gauge G-02' })
  })

  test('a bad batch: the joints that got any of it, and parts whose joint nobody named', async () => {
    const line = (joint_id: string | null, batch: string, part_id = w.part, order = w.order) => {
      const joint = joint_id ?? w.joint(order)
      const job = t.deps.store.raw.prepare('select job_id from job_joints where id = ?').pluck().get(joint) as string
      return addPartLine(w.desk, job, {
        ...{ part_id, quantity: 1, batch, condition: 'new', cost_minor: 90, price_minor: 180 },
        ...(joint_id !== null && { joint_id }),
      }).id
    }
    const got = w.joint()
    line(got, '31-a07')
    line(w.joint(), '31-A08')
    line(w.joint(), '31-A07', createPart(w.desk, { number: 'OTHER', name: 'Other' }).id)
    const loose = line(null, '31-A07')
    const url = `/api/parts/${w.part}/batch-faults`
    const body = { batch: '31-A07', reason: 'Heads crack at half the torque' }
    await scenario(t, { as: 'desk', post: url, body: { batch: '' }, expect: 422, fields: ['/batch', '/reason'] })
    await scenario(t, { as: 'desk', post: '/api/parts/none/batch-faults', body, expect: 404 })
    const fault = (await scenario(t, { as: 'technician', post: url, body, expect: 201, events: 1 })).body
    expect((await scenario(t, { as: 'desk', get: url, expect: 200 })).body.items).toEqual([fault])
    expect(await w.open()).toEqual([[got, 'batch']])
    expect((await w.doubts())[0].sentence).toBe(
      'Drive flange on work order 2031-0001: it got some of batch 31-A07 of Hub bearing, which was found bad on 3 March 2031: Heads crack at half the torque.',
    )
    const parts = (await scenario(t, { as: 'desk', get: '/api/parts-in-doubt', expect: 200 })).body.items
    expect(parts).toMatchObject([
      { batch_fault_id: fault.id, part_line_id: loose, vehicle_id: w.vehicle, settled: null },
    ])
    expect(parts[0].sentence).toContain('part fitted, no joint named')
    const settlement = `/api/parts-in-doubt/${parts[0].id}/settlement`
    const how = { how: 'Replaced by one of batch 31-A09' }
    await scenario(t, { as: 'desk', post: settlement, body: how, expect: 403 })
    await scenario(t, { as: 'technician', post: settlement, body: how, expect: 201, events: 1 })
    await scenario(t, { as: 'technician', post: settlement, body: how, expect: 409, problem: 'doubt-settled' })
    const one = (await scenario(t, { as: 'desk', get: `/api/parts-in-doubt/${parts[0].id}`, expect: 200 })).body
    expect(one.settled).toMatchObject(how)
  })

  test('a procedure revision that a later one calls wrong: what was tightened by it, also afterwards', async () => {
    const done = w.tightened()
    const planned = w.joint()
    const [first] = procedureRevisions(w.owner, w.procedure)
    const said: ProcedureRevisionInput = {
      layout: 'circle',
      count: 2,
      stages: [{ kind: 'torque', target: 35, lower: 32, upper: 38 }],
      reuse: 'free',
      severity: 'breakdown',
      on_failure: 'restart',
      source: 'The same, page 13',
    }
    addProcedureRevision(w.owner, w.procedure, said)
    expect(await w.open()).toEqual([])
    const supersedes = { supersedes: first!.id, reason: 'The book says 35, not 25.' }
    addProcedureRevision(w.owner, w.procedure, { ...said, ...supersedes })
    w.tightened()
    expect(await w.open()).toEqual([[done, 'procedure']])
    expect((await w.doubts())[0]).toMatchObject({
      because: 'revision 1 of Drive flange',
      sentence: expect.stringContaining('was found wrong on 3 March 2031: The book says 35, not 25.'),
    })
    w.tightenWith(planned, w.W12)
    expect((await w.open()).map(([joint]) => joint).sort()).toEqual([done, planned].sort())
  })

  test('a record put right after hand-back; one that is put right again counts in its stead', async () => {
    const joint = w.joint()
    const record = w.tightenWith(joint, w.W12)
    w.tightenWith(joint, w.W12, { supersedes: record.id, reason: 'Typed twice' })
    w.tightenWith(joint, w.W12, { position: 2 })
    signOffJoint(w.technician, joint, { as: 'technician' })
    w.giveBack(w.order)
    expect(await w.open()).toEqual([])
    const stands = t.deps.store.raw
      .prepare('select id from torque_records where supersedes_id = ?')
      .pluck()
      .get(record.id) as string
    const corrected = w.tightenWith(joint, w.W12, { supersedes: stands, reason: 'It was 22, not 25', value: 22 })
    expect(await w.open()).toEqual([[joint, 'correction']])
    w.tightenWith(joint, w.W12, { supersedes: corrected.id, reason: 'It was 23', value: 23 })
    const [doubt, ...others] = await w.doubts()
    expect(others).toEqual([])
    expect(doubt).toMatchObject({ left_on: '2031-03-03', sentence: expect.stringContaining('had left: It was 23.') })
  })
})

test('safety comes first, then vehicles that have left, then those in the house', async () => {
  const gone = w.another('QH 100 AA', 'Ena Holt', '0555 014 100')
  const back = w.another('QH 200 BB', 'Odo Lund', '0555 014 200')
  const inHouse = w.tightened()
  const left = w.leaves(gone.order)
  const cameBack = w.leaves(back.order)
  const safety = jointWith(t, w, { severity: 'safety' })
  recordTorque(w.technician, safety, reading(w, 1, 1, 25, { made_at: undefined }))
  w.on(5)
  w.openOrder({ vehicle_id: back.vehicle })
  w.check(5, 'outside')
  const joints = (await w.open()).map(([joint]) => joint)
  expect(joints.slice(0, 2)).toEqual([safety, left])
  expect(joints.slice(2).sort()).toEqual([inHouse, cameBack].sort())
})

test('nothing is doubted since before the first word of it', async () => {
  const id = w.check(3, 'outside')
  expect(() => sayDoubtedSince(w.owner, id, { at: '2031-03-03T09:00:00.000Z', reason: 'Later today' })).toThrow()
  expect(await w.doubts()).toEqual([])
})

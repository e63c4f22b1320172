import { beforeEach, describe, expect, test } from 'vitest'
import { createToken } from '../../src/accounts/index.ts'
import { jointStates, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { handBack, voidJobSafely } from '../../src/hand-back/index.ts'
import { contextFor } from '../../src/platform/context.ts'
import { jobById, startClock } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { issueNew, jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  joint = jointWith(t, w, { count: 2, reuse: 'free', on_failure: 'restart' })
})

const leave = (more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/leavings`,
    body: { reason: 'Called to the telephone' },
    expect: 201,
    ...more,
  })
const resume = (id: string, how: string, more: object = {}) =>
  scenario(t, { as: 'owner', post: `/api/joint-leavings/${id}/resumption`, body: { how }, expect: 201, ...more })
const record = (position: number, stage: number, more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/torque-records`,
    body: reading(w, position, stage, stage === 1 ? 25 : 90),
    expect: 201,
    ...more,
  })
const jointNow = async () => (await scenario(t, { as: 'desk', get: `/api/joints/${joint}`, expect: 200 })).body

describe('a joint left half way', () => {
  test('keeps who, when, where and why, and takes nothing until somebody says how it goes on', async () => {
    await record(1, 1)
    const { body, headers } = await leave()
    expect(body).toMatchObject({
      ...{ by_name: 'technician token', reason: 'Called to the telephone', position: 2, stage: 1, resumed: null },
      at: '2031-03-03T08:00:00.000Z',
    })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect((await jointNow()).left).toEqual(body)

    const refused = await record(2, 1, { expect: 409, problem: 'joint-left' })
    expect(refused.body.detail).toContain('by technician token on 3 March 2031 at 08:00: Called to the telephone')
    expect(refused.body.left).toEqual(body)
    const sign = { as: 'owner', post: `/api/joints/${joint}/sign-offs`, body: { as: 'technician' } } as const
    await scenario(t, { ...sign, expect: 409, problem: 'joint-left' })
    await leave({ expect: 409, problem: 'joint-left' })
    const whole = { post: `/api/joints/${joint}/stages-as-set`, body: { stage: 1, wrench_id: w.wrench } }
    await scenario(t, { as: 'owner', ...whole, expect: 409, problem: 'joint-left' })

    const resumed = await resume(body.id, 'carry_on')
    expect((await scenario(t, { as: 'desk', get: resumed.headers.location!, expect: 200 })).body).toEqual(resumed.body)
    const now = await jointNow()
    expect(now.left).toBeNull()
    expect(now.leavings).toMatchObject([
      { by_name: 'technician token', resumed: { by_name: 'owner token', how: 'carry_on' } },
    ])
    await resume(body.id, 'carry_on', { expect: 409, problem: 'joint-resumed' })
    await record(2, 1)
  })

  test('carried on, what was recorded counts; started over, it counts no more', async () => {
    await record(1, 1)
    await resume((await leave()).body.id, 'carry_on')
    expect((await jointNow()).next).toMatchObject({ action: 'tighten', position: 2, stage: 1 })
    await resume((await leave()).body.id, 'start_over')
    expect((await jointNow()).next).toMatchObject({ action: 'restart', position: 1, stage: 1 })
    for (const stage of [1, 2]) for (const position of [1, 2]) await record(position, stage)
    expect((await jointNow()).complete).toBe(true)
    signOffJoint(w.technician, joint, { as: 'technician' })
    expect((await jointNow()).signed).toBe(true)
  })

  test('started over, a single-use fastener that was turned is replaced', async () => {
    joint = jointWith(t, w, { count: 2 })
    await record(1, 1)
    await resume((await leave()).body.id, 'start_over')
    expect((await jointNow()).next).toEqual({ action: 'replace', position: 1, fastener: 2, stage: 1 })
    await record(2, 1)
    await record(2, 2)
    for (const stage of [1, 2])
      recordTorque(w.technician, joint, reading(w, 1, stage, stage === 1 ? 25 : 90, { fastener: 2 }))
    issueNew(w, joint, 3)
    signOffJoint(w.technician, joint, { as: 'technician' })
    expect((await jointNow()).blockers).toEqual([])
    expect((await jointNow()).new_fasteners).toEqual({ needed: 3, issued: 3 })
  })

  test('a signature that waits for the second person is kept, but not taken while it is left', async () => {
    joint = jointWith(t, w, { count: 1, severity: 'safety', reuse: 'free' })
    for (const stage of [1, 2]) await record(1, stage)
    signOffJoint(w.technician, joint, { as: 'technician' })
    const left = await leave()
    const second = { as: 'owner', post: `/api/joints/${joint}/sign-offs`, body: { as: 'second_person' } } as const
    await scenario(t, { ...second, expect: 409, problem: 'joint-left' })
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({
      left: { reason: 'Called to the telephone' },
      signed: false,
    })
    await resume(left.body.id, 'carry_on')
    await scenario(t, { ...second, expect: 201 })
    await leave({ expect: 409, problem: 'already-signed' })
  })

  test('stops the clock of whoever leaves, and no other', async () => {
    const job = (await jointNow()).job_id
    const other = createToken(t.system, { name: 'other technician', role: 'technician' })
    const otherCtx = contextFor(t.deps, { id: other.person.id, name: 'other technician', role: 'technician' })
    const own = startClock(w.technician, job, {}).clock.id
    const others = startClock(otherCtx, job, {}).clock.id
    t.clock.set(t.clock.now() + 20 * 60_000)
    await leave()
    const clock = async (id: string) =>
      (await scenario(t, { as: 'desk', get: `/api/clock-starts/${id}`, expect: 200 })).body
    expect((await clock(own)).stopped_at).toBe('2031-03-03T08:20:00.000Z')
    expect((await clock(others)).stopped_at).toBeUndefined()
  })

  test('desk 403, unknown 404, a reason is needed, a word that is not known is refused', async () => {
    await leave({ as: 'desk', expect: 403 })
    await leave({ post: '/api/joints/nobody/leavings', expect: 404 })
    await leave({ body: {}, expect: 422, fields: ['/reason'] })
    await leave({ body: { reason: ' ' }, expect: 422, fields: ['/reason'] })
    const { body } = await leave()
    await resume(body.id, 'go on', { expect: 422, fields: ['/how'] })
    await resume(body.id, 'carry_on', { as: 'desk', expect: 403 })
    await resume('nobody', 'carry_on', { expect: 404 })
    await scenario(t, { as: 'desk', get: `/api/joint-leavings/${body.id}/resumption`, expect: 404 })
  })

  test('is over once the vehicle has left', async () => {
    const job = jobById(w.desk, (await jointNow()).job_id)
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    handBack(w.desk, w.order, {})
    await leave({ expect: 409, problem: 'work-order-handed-back' })
  })
})

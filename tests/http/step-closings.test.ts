import { beforeEach, describe, expect, test } from 'vitest'
import { voidJobSafely } from '../../src/hand-back/index.ts'
import { type Job, openStep, putToolIn, takeToolOut } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const closing = (job: Job, step: string, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/jobs/${job.id}/steps/${step}/closings`, body: {}, expect: 201, ...more })
describe('POST /api/jobs/{id}/steps/{step_id}/closings', () => {
  test('is refused while anything is behind the step, with every reason in a sentence', async () => {
    const job = w.add('bearing')
    w.open(job, w.wheel, w.carrier, w.shaft, w.hub)
    putToolIn(w.technician, job.id, { tool: 'holding plate no. 3', before_step_id: w.hub })
    const { body } = await closing(job, w.carrier, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toEqual([
      { reason: 'tool_in', sentence: 'Holding plate no. 3 is still in.', href: `/bench/jobs/${job.id}` },
      { reason: 'step_open', sentence: '"Axle shaft out" is still open.', href: `/bench/jobs/${job.id}` },
      { reason: 'step_open', sentence: '"Hub carrier out" is still open.', href: `/bench/jobs/${job.id}` },
      { reason: 'look_missing', sentence: 'The look at the brake hose is not done.', href: `/bench/jobs/${job.id}` },
      {
        reason: 'joint_unsigned',
        sentence: 'Drive flange is not signed: 2 of 2 still to tighten.',
        href: `/bench/joints/${job.joints[0]!.id}`,
      },
    ])
    expect(body.detail).toMatch(/^"Brake carrier aside" cannot be closed yet: holding plate no. 3 is still in; /)
    const { body: hub } = await closing(job, w.hub, { expect: 409, problem: 'step-blocked' })
    expect(hub.blockers).toHaveLength(1)
  })

  test('goes from the inside out once everything is done', async () => {
    const job = w.add('bearing')
    w.open(job, w.wheel, w.carrier, w.shaft, w.hub)
    await closing(job, w.hub)
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
    w.finishJoint(job.joints[0]!.id)
    const { body, headers } = await closing(job, job.steps[2]!.id)
    expect(body).toMatchObject({ access_step_id: w.shaft, step_id: job.steps[2]!.id })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    w.lookFine(job.looks[0]!.id)
    await closing(job, w.carrier)
    await closing(job, w.wheel)
    await closing(job, w.wheel, { expect: 409, problem: 'step-not-open' })
  })

  test('looks across all jobs of the order', async () => {
    const [boot, bearing] = [w.add('boot'), w.add('bearing')]
    w.open(boot, w.wheel, w.carrier, w.shaft)
    const { body } = await closing(boot, w.shaft, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toMatchObject([{ reason: 'joint_unsigned' }])
    voidJobSafely(w.desk, bearing.id, { reason: 'Not wanted' })
    await closing(boot, w.shaft)
  })

  test('a tool outlives its voided job, and so does a step that it opened', async () => {
    const [boot, bearing] = [w.add('boot'), w.add('bearing')]
    w.open(bearing, w.wheel, w.carrier, w.shaft, w.hub)
    const tool = putToolIn(w.technician, bearing.id, { tool: 'Plug', before_step_id: w.carrier })
    voidJobSafely(w.desk, bearing.id, { reason: 'Not wanted' })
    await closing(boot, w.shaft, { expect: 409, problem: 'step-blocked' })
    await closing(bearing, w.hub)
    await closing(boot, w.shaft)
    const { body } = await closing(boot, w.carrier, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toMatchObject([{ reason: 'tool_in', sentence: 'Plug is still in.' }])
    takeToolOut(w.technician, tool.id, {})
    await closing(boot, w.carrier)
  })

  test('a later record takes the signature back', async () => {
    const job = w.add('bearing')
    w.open(job, w.wheel, w.carrier, w.shaft)
    w.finishJoint(job.joints[0]!.id)
    w.tighten(job.joints[0]!.id, 1, 26)
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
  })

  test('is for technicians, for steps that there are, and not before the opening', async () => {
    const job = w.add('boot')
    await closing(job, w.wheel, { expect: 409, problem: 'step-not-open' })
    openStep(w.technician, job.id, w.wheel, { at: '2031-03-03T09:00:00Z' })
    await closing(job, w.wheel, { body: { at: '2031-03-03T08:59:00Z' }, expect: 422, fields: ['/at'] })
    await closing(job, w.wheel, { as: 'desk', expect: 403 })
    await closing(job, w.hub, { expect: 404 })
    await closing({ ...job, id: 'nothing' }, w.wheel, { expect: 404 })
  })
})

describe('POST /api/jobs/{id}/voiding', () => {
  test('is refused while a joint was begun and is not signed', async () => {
    const job = w.add('bearing')
    w.tighten(job.joints[0]!.id, 1)
    const voiding = (more: object) =>
      scenario(t, {
        as: 'desk',
        post: `/api/jobs/${job.id}/voiding`,
        body: { reason: 'Not wanted' },
        expect: 201,
        ...more,
      })
    await voiding({ expect: 409, problem: 'joint-begun' })
    w.finishJoint(job.joints[0]!.id)
    await voiding({})
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addProcedureRevision, createOperation, createProcedure } from '../../src/catalogue/index.ts'
import { useTemporarily } from '../../src/fastening/index.ts'
import { closeStep, standingOfOrder, turnEngine, voidJobSafely } from '../../src/hand-back/index.ts'
import { addJob, type Job, jobById, openStep, putToolIn, recordMark, startClock } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { beltOperation } from '../support/belt-operation.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = addJob(w.desk, w.order, { operation_id: beltOperation(w) })
})

/** Two bolts that are used once. */
function singleUse(): string {
  const procedure = createProcedure(w.owner, { name: 'Wheel bolts' }).id
  addProcedureRevision(w.owner, procedure, {
    layout: 'circle',
    count: 2,
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
    reuse: 'never',
    severity: 'breakdown',
    on_failure: 'replace',
    source: 'Invented maker’s manual, page 62',
  })
  return procedure
}

const post = (url: string, body: object = {}, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api${url}`, body, expect: 201, ...more })
const get = (url: string, more: object = {}) => scenario(t, { as: 'desk', get: `/api${url}`, expect: 200, ...more })
const makeAllMarks = () => {
  for (const mark of job.marks) recordMark(w.technician, mark.id, {})
}

describe('POST /api/jobs/{id}/engine-turns', () => {
  const url = () => `/jobs/${job.id}/engine-turns`
  const reasons = (body: { blockers: { reason: string }[] }) => body.blockers.map(each => each.reason)

  test('by hand first, with tools out and begun joints signed; then started', async () => {
    makeAllMarks()
    openStep(w.technician, job.id, w.wheel, {})
    const blocked = { expect: 409, problem: 'engine-blocked' }
    const pin = putToolIn(w.technician, job.id, { tool: 'cam locking pin' })
    w.tighten(job.joints[0]!.id, 1)
    const { body } = await post(url(), { how: 'by_hand' }, blocked)
    expect(reasons(body)).toEqual(['tool_in', 'joint_unsigned'])
    expect(body.detail).toMatch(
      /^The engine may not be turned yet: cam locking pin is still in; tensioner is not signed/,
    )
    await post(`/tools-in/${pin.id}/removal`)
    w.tighten(job.joints[0]!.id, 2)
    await post(`/joints/${job.joints[0]!.id}/sign-offs`, { as: 'technician' })
    const started = async () => reasons((await post(url(), { how: 'started' }, blocked)).body)
    expect(await started()).toEqual(['step_open', 'engine_not_turned'])
    const { body: turn, headers } = await post(url(), { how: 'by_hand', note: 'Two turns' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(turn)
    // what the job has opened is closed before the engine runs
    expect(await started()).toEqual(['step_open'])
    await post(`/jobs/${job.id}/steps/${w.wheel}/closings`)
    await post(url(), { how: 'started' })
    expect((await get(url())).body.items).toMatchObject([{ how: 'by_hand', note: 'Two turns' }, { how: 'started' }])
    // whatever is opened afterwards may have moved something
    openStep(w.technician, job.id, w.wheel, {})
    expect(await started()).toEqual(['step_open', 'engine_not_turned'])
  })

  test('a tool in any part of the vehicle counts, whichever job put it in', async () => {
    putToolIn(w.technician, w.add('boot').id, { tool: 'Drift' })
    await post(url(), { how: 'by_hand' }, { expect: 409, problem: 'engine-blocked' })
  })

  test('temporary fasteners are not for the road, and the engine stands still on them', async () => {
    const single = createOperation(w.owner, {
      ...{ name: 'Wheel bolts: renew', hours: 1, access_step_ids: [], looks: [], final_checks: [] },
      joints: [{ name: 'Wheel bolts', procedure_id: singleUse() }],
    }).id
    const wheel = addJob(w.desk, w.order, { operation_id: single })
    useTemporarily(w.technician, wheel.joints[0]!.id, { reason: 'To move it off the lift' })
    const { body } = await post(url(), { how: 'by_hand' }, { expect: 409, problem: 'engine-blocked' })
    expect(body.blockers).toEqual([
      {
        reason: 'temporary_fasteners',
        sentence: 'Temporary fasteners, not for the road: wheel bolts.',
        href: `/bench/joints/${wheel.joints[0]!.id}`,
      },
    ])
    expect(standingOfOrder(w.desk, w.order).blockers.map(each => each.reason)).toContain('temporary_fasteners')
    const technician = t.cookie('technician', 'Tobin Rask')
    expect(await page(t, `/bench/jobs/${job.id}`, technician)).toContain('Temporary fasteners, not for the road:')
    const handBackPage = await page(t, `/work-orders/${w.order}/hand-back`, t.cookie('desk', 'Ilse Marrok'))
    expect(handBackPage).toMatch(/class="hurts foremost">.*Temporary fasteners, not for the road: wheel bolts\./)
    // nor can the job be taken off to be rid of them
    expect(() => voidJobSafely(w.desk, wheel.id, { reason: 'Not wanted' })).toThrow(/begun/)
  })

  test('is for technicians, on a job that stands, and says how', async () => {
    await post(url(), { how: 'by_hand' }, { as: 'desk', expect: 403 })
    await post(url(), { how: 'by the belt' }, { expect: 422, fields: ['/how'] })
    await post('/jobs/nothing/engine-turns', { how: 'by_hand' }, { expect: 404 })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    await post(url(), { how: 'by_hand' }, { expect: 409, problem: 'job-voided' })
  })

  test('blocks the hand-back until it was turned by hand, and the job is not done before', () => {
    const standing = () => standingOfOrder(w.desk, w.order)
    makeAllMarks()
    for (const step of [w.wheel, w.carrier]) openStep(w.technician, job.id, step, {})
    w.finishJoint(job.joints[0]!.id)
    for (const step of [w.carrier, w.wheel]) closeStep(w.technician, job.id, step, {})
    w.checkFine(job.final_checks[0]!.id)
    const reason = (each: { reason: string }) => each.reason
    expect(standing().blockers.map(reason)).toContain('engine_not_turned')
    expect(standing().done_job_ids.size).toBe(0)
    turnEngine(w.technician, job.id, { how: 'by_hand' })
    expect(standing().blockers.map(reason)).not.toContain('engine_not_turned')
    expect(standing().done_job_ids.has(job.id)).toBe(true)
  })
})

describe('clocks', () => {
  const start = (id: string, more: object = {}) => post(`/jobs/${id}/clock-starts`, {}, more)

  test('a person has one: starting on another job stops the first', async () => {
    const boot = w.add('boot')
    const { body: first, headers } = await start(job.id)
    expect(headers.location).toBe(`/api/clock-starts/${first.id}`)
    await start(job.id, { expect: 409, problem: 'clock-running' })
    t.clock.set(t.clock.now() + 3_600_000)
    const { body: second } = await start(boot.id)
    expect((await get(`/clock-starts/${first.id}`)).body.stopped_at).toBe(second.at)
    // another person's runs on
    await start(job.id, { as: 'owner' })
    expect((await get(`/clock-starts/${second.id}`)).body).not.toHaveProperty('stopped_at')
    expect((await get(`/jobs/${job.id}/clock-starts`)).body.items).toHaveLength(2)
  })

  test('a running clock is work', async () => {
    expect(standingOfOrder(w.desk, w.order).state).toBe('taken_in')
    await start(job.id)
    expect(standingOfOrder(w.desk, w.order).state).toBe('in_work')
  })

  test('is stopped once, not before its start and not in the future', async () => {
    const { body } = await start(job.id)
    const stop = (at: object, more: object = {}) => post(`/clock-starts/${body.id}/stop`, at, more)
    await get(`/clock-starts/${body.id}/stop`, { expect: 404 })
    await stop({ at: '2031-01-01T00:00:00Z' }, { expect: 422, fields: ['/at'] })
    await stop({ at: '2040-01-01T00:00:00Z' }, { expect: 422, fields: ['/at'] })
    await stop({}, { as: 'desk', expect: 403 })
    const { body: stopped, headers } = await stop({})
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(stopped)
    await stop({}, { expect: 409, problem: 'clock-stopped' })
    await post('/clock-starts/nothing/stop', {}, { expect: 404 })
  })

  test('ends with its job', () => {
    const { clock } = startClock(w.technician, job.id, {})
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    const stops = t.deps.store.raw.prepare('select clock_start_id from clock_stops').pluck().all()
    expect(stops).toEqual([clock.id])
    expect(jobById(w.desk, job.id).voided_at).toBeDefined()
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addProcedureRevision, createOperation, createProcedure } from '../../src/catalogue/index.ts'
import { useTemporarily } from '../../src/fastening/index.ts'
import { closeStep, standingOfOrder, turnEngine, voidJobSafely } from '../../src/hand-back/index.ts'
import { addJob, type Job, jobById, openStep, putToolIn, recordMark, startClock } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
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
  job = addJob(w.desk, w.order, { operation_id: beltOperation() })
})

/** An engine job behind two steps: a mark of its own, marks of its joint, a pin, small things, an engine to turn. */
function beltOperation(): string {
  const procedure = createProcedure(w.owner, { name: 'Tensioner bolt' }).id
  addProcedureRevision(w.owner, procedure, {
    layout: 'circle',
    count: 2,
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
    marks: ['Arm against its scale marked'],
    reuse: 'free',
    severity: 'breakdown',
    on_failure: 'restart',
    source: 'Invented maker’s manual, page 61',
  })
  return createOperation(w.owner, {
    name: 'Cam belt: renew',
    hours: 2,
    access_step_ids: [w.carrier],
    joints: [{ name: 'Tensioner', procedure_id: procedure, behind_step_id: w.wheel }],
    looks: [],
    final_checks: ['Idles evenly'],
    marks: [{ text: 'Belt and wheels marked', before_step_id: w.wheel }, { text: 'Left side photographed' }],
    tools: [
      { tool: 'Cam locking pin', for_step_id: w.wheel, before_step_id: w.wheel },
      { tool: 'Plug', count: 4, before_step_id: w.wheel },
    ],
    turns_engine: true,
    sound_before_after: true,
  }).id
}

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
const markOf = (text: string) => job.marks.find(mark => mark.text === text)!.id
const makeAllMarks = () => {
  for (const mark of job.marks) recordMark(w.technician, mark.id, {})
}

describe('the plan of a job', () => {
  test('copies marks, those of its pinned procedures with their joint, tools, and what the engine needs', () => {
    expect(job).toMatchObject({
      turns_engine: true,
      sound_before_after: true,
      marks: [
        { text: 'Belt and wheels marked', before_step_id: w.wheel },
        { text: 'Left side photographed' },
        { text: 'Arm against its scale marked', joint_id: job.joints[0]!.id },
      ],
      tools: [
        { tool: 'Cam locking pin', count: 1, for_step_id: w.wheel, before_step_id: w.wheel },
        { tool: 'Plug', count: 4, before_step_id: w.wheel },
      ],
    })
    expect(job.marks[1]).not.toHaveProperty('before_step_id')
  })
})

test('an operation names only steps that it opens, in marks and tools too', async () => {
  const body = {
    ...{ name: 'Chain: renew', hours: 1, access_step_ids: [w.wheel], joints: [], looks: [], final_checks: [] },
    marks: [{ text: 'Marked', before_step_id: w.carrier }],
    tools: [
      { tool: 'Pin', for_step_id: w.wheel, before_step_id: w.shaft },
      { tool: 'Cap', count: 0, for_step_id: 'nothing' },
    ],
  }
  const post = (more: object, rest: object) =>
    scenario(t, { as: 'owner', post: '/api/operations', body: { ...body, ...more }, expect: 201, ...rest })
  await post({}, { expect: 422, fields: ['/tools/1/count'] })
  const tools = [body.tools[0], { tool: 'Cap', for_step_id: 'nothing' }]
  const wrong = ['/marks/0/before_step_id', '/tools/0/before_step_id', '/tools/1/for_step_id']
  await post({ tools }, { expect: 422, fields: wrong })
  await post({ access_step_ids: [w.shaft], tools: [body.tools[0]] }, {})
})

describe('POST /api/marks/{id}/result', () => {
  test('a step is opened only after its marks', async () => {
    const opening = `/jobs/${job.id}/steps/${w.wheel}/openings`
    const { body } = await post(opening, {}, { expect: 409, problem: 'mark-missing' })
    expect(body.blockers).toEqual([
      {
        reason: 'mark_missing',
        sentence: 'The mark "Belt and wheels marked" is not made.',
        href: `/bench/jobs/${job.id}`,
      },
      {
        reason: 'mark_missing',
        sentence: 'The mark "Left side photographed" is not made.',
        href: `/bench/jobs/${job.id}`,
      },
    ])
    expect(body.detail).toContain('Before "Wheel off" is opened: belt and wheels marked; left side photographed.')
    await post(`/marks/${markOf('Belt and wheels marked')}/result`)
    await post(`/marks/${markOf('Left side photographed')}/result`)
    await post(opening)
    // the arm lies behind the wheel, so going deeper takes it apart
    await post(`/jobs/${job.id}/steps/${w.carrier}/openings`, {}, { expect: 409, problem: 'mark-missing' })
    await post(`/marks/${markOf('Arm against its scale marked')}/result`)
    await post(`/jobs/${job.id}/steps/${w.carrier}/openings`)
  })

  test('is made once, by a technician, on a job that stands', async () => {
    const url = `/marks/${job.marks[0]!.id}`
    await get(`${url}/result`, { expect: 404 })
    await post(`${url}/result`, {}, { as: 'desk', expect: 403 })
    const { body, headers } = await post(`${url}/result`, { note: 'White paint', at: '2031-03-03T08:00:00Z' })
    expect(body).toMatchObject({ mark_id: job.marks[0]!.id, note: 'White paint', at: '2031-03-03T08:00:00.000Z' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect((await get(url)).body.made_at).toBe(body.at)
    await post(`${url}/result`, {}, { expect: 409, problem: 'mark-made' })
    await post('/marks/nothing/result', {}, { expect: 404 })
    await post(`${url}/result`, { note: '' }, { expect: 422, fields: ['/note'] })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    await post(`/marks/${job.marks[1]!.id}/result`, {}, { expect: 409, problem: 'job-voided' })
  })

  test('marks of a voided job hold nothing up', async () => {
    const boot = w.add('boot')
    await post(`/jobs/${boot.id}/steps/${w.wheel}/openings`, {}, { expect: 409, problem: 'mark-missing' })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    await post(`/jobs/${boot.id}/steps/${w.wheel}/openings`)
  })
})

describe('tools in the vehicle', () => {
  test('name the plan, the step that needs them, and come out by count', async () => {
    makeAllMarks()
    openStep(w.technician, job.id, w.wheel, {})
    const planned = job.tools[1]!
    const { body: plugs } = await post(`/jobs/${job.id}/tools-in`, {
      ...{ tool: 'Plug', count: 4, job_tool_id: planned.id, for_step_id: w.wheel, before_step_id: w.wheel },
    })
    const wheelStep = job.steps.find(step => step.access_step_id === w.wheel)!.id
    expect(plugs).toMatchObject({ count: 4, job_tool_id: planned.id, for_step_id: wheelStep })
    expect((await get(`/tools-in/${plugs.id}`)).body).toEqual(plugs)
    const removal = (body: object, more: object = {}) => post(`/tools-in/${plugs.id}/removal`, body, more)
    const refused = { expect: 422, fields: ['/count'] }
    expect((await removal({ count: 3 }, refused)).text).toContain('4 went in, 3 came out: find the fourth.')
    expect((await removal({}, refused)).text).toContain('4 went in: count what came out, and say how many.')
    expect((await removal({ count: 5 }, refused)).text).toContain('count again')
    await removal({ count: 4 })
    const { text } = await removal({ count: 4 }, { expect: 409, problem: 'tool-out' })
    // the tests' workshop lives by UTC
    expect(text).toMatch(/was taken out at \d\d:\d\d\./)
  })

  test.each([
    ['no count at all', { tool: 'Plug', count: 0 }, ['/count']],
    ['a step of nobody', { tool: 'Plug', for_step_id: 'nothing' }, ['/for_step_id']],
    ['a tool that is not of this plan', { tool: 'Plug', job_tool_id: 'nothing' }, ['/job_tool_id']],
  ])('refuses %s', async (_, body, fields) => {
    await post(`/jobs/${job.id}/tools-in`, body, { expect: 422, fields })
  })

  test('several are named in what they block, also after their job was voided', async () => {
    putToolIn(w.technician, job.id, { tool: 'Plug', count: 4 })
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    expect(standingOfOrder(w.desk, w.order).blockers.map(each => each.sentence)).toContain('Plug: 4 are still in.')
  })
})

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
    expect(reasons((await post(url(), { how: 'started' }, blocked)).body)).toEqual(['engine_not_turned'])
    const { body: turn, headers } = await post(url(), { how: 'by_hand', note: 'Two turns' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(turn)
    await post(url(), { how: 'started' })
    expect((await get(url())).body.items).toMatchObject([{ how: 'by_hand', note: 'Two turns' }, { how: 'started' }])
    // whatever is opened afterwards may have moved something
    openStep(w.technician, job.id, w.carrier, {})
    expect(reasons((await post(url(), { how: 'started' }, blocked)).body)).toEqual(['engine_not_turned'])
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

import { beforeEach, describe, expect, test } from 'vitest'
import { standingOfOrder, voidJobSafely } from '../../src/hand-back/index.ts'
import { addJob, type Job, openStep, putToolIn, recordMark } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { beltOperation } from '../support/belt-operation.ts'
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

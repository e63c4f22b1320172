import { beforeEach, describe, expect, test } from 'vitest'
import { addProcedureRevision, createOperation } from '../../src/catalogue/index.ts'
import { notePriorWork } from '../../src/findings/index.ts'
import { closeStep, turnEngine, voidJobSafely } from '../../src/hand-back/index.ts'
import { addJob, type Job, openStep, planOfOrder, putToolIn, recordMark } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { hiddenFields, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  const operation = createOperation(w.owner, {
    name: 'Cam belt: renew',
    hours: 2,
    access_step_ids: [w.wheel],
    joints: [{ name: 'Tensioner', procedure_id: w.procedure, behind_step_id: w.wheel }],
    looks: [],
    final_checks: ['Idles evenly'],
    marks: [{ text: 'Belt and wheels marked', before_step_id: w.wheel }],
    tools: [{ tool: 'Plug', count: 4, for_step_id: w.wheel, before_step_id: w.wheel }],
    turns_engine: true,
    sound_before_after: true,
  }).id
  job = addJob(w.desk, w.order, { operation_id: operation })
  cookie = t.cookie('technician', 'Tobin Rask')
})

const card = () => `/bench/jobs/${job.id}`
const shown = () => page(t, card(), cookie)
/** The first button of the card that does so. */
async function tap(what: string, more: Record<string, string> = {}) {
  const action = `${card()}/${what}`
  const hidden = Object.fromEntries(hiddenFields(await shown(), action))
  const reply = await sendForm(t, action, cookie, Object.entries({ ...hidden, ...more }))
  expect(reply.statusCode, `${what} ${reply.body.slice(0, 500)}`).toBe(303)
  return reply
}
/** What the card says comes next. */
const nextOf = (html: string) =>
  [...html.matchAll(/<p class="say-next">([^<]*)<\/p>/g)].map(([, title]) => title!.replaceAll('&quot;', '"'))
const prepared = () => {
  recordMark(w.technician, job.marks[0]!.id, {})
  openStep(w.technician, job.id, w.wheel, {})
}

test('the card walks a job from its first mark to its last check, one tap each, and lands at what comes next', async () => {
  expect(nextOf(await shown())).toEqual(['Its sound before the work', 'Belt and wheels marked'])
  expect((await tap('marks')).headers.location).toBe(`${card()}#next`)
  expect(nextOf(await shown())).toEqual(['Its sound before the work', 'Wheel off'])
  await tap('openings')
  const opened = await shown()
  expect(opened).toContain('missing: the work has begun without it')
  expect(nextOf(opened)).toEqual(['Plug, 4 of them, in', 'Tensioner'])
  await tap('planned-tools')
  expect(nextOf(await shown())).toEqual(['Tensioner'])
  w.finishJoint(job.joints[0]!.id)
  expect(nextOf(await shown())).toEqual(['Plug, 4 of them, out'])
  const tool = planOfOrder(w.desk, w.order).jobs[0]!.tools_in[0]!.id
  const counted = await fillIn(t, cookie, `${card()}/tools/${tool}/out`, { count: '3' })
  expect(counted.reply.statusCode).toBe(422)
  expect(counted.reply.body).toContain('4 went in, 3 came out: find the fourth.')
  expect((await fillIn(t, cookie, `${card()}/tools/${tool}/out`, { count: '4' })).reply.statusCode).toBe(303)
  expect(await shown()).toContain('Plug: all 4 are out.')
  expect(nextOf(await shown())).toEqual(['Wheel off: closed again'])
  await tap('closings')
  expect(nextOf(await shown())).toEqual(['Engine turned by hand, two turns, nothing touches'])
  await tap('engine-turns')
  expect(nextOf(await shown())).toEqual(['First start', 'Idles evenly'])
  await tap('engine-turns')
  expect(nextOf(await shown())).toEqual(['Idles evenly'])
  await tap('final-checks')
  expect(nextOf(await shown())).toEqual(['Its sound after the work', 'Everything on this card is done.'])
})

test('a refused tap says why on the card, and nothing is written', async () => {
  const before = t.eventCount()
  const hidden = hiddenFields(await shown(), `${card()}/marks`).filter(([name]) => name === '_key')
  const step = job.steps[0]!.id
  const reply = await sendForm(t, `${card()}/openings`, cookie, [...hidden, ['step_id', step]])
  expect(reply.statusCode).toBe(409)
  expect(reply.body).toContain('belt and wheels marked')
  const engine = await sendForm(t, `${card()}/engine-turns`, cookie, [...hidden, ['how', 'started']])
  expect(engine.statusCode).toBe(409)
  expect(engine.body).toContain('it was not turned by hand since a step was opened last')
  const tool = await sendForm(t, `${card()}/planned-tools`, cookie, [...hidden, ['job_tool_id', 'nothing']])
  expect(tool.statusCode).toBe(422)
  expect(t.eventCount()).toBe(before)
})

describe('the tools of an order', () => {
  test('stand on the card and on the work order, with the way out, and outlive a voided job', async () => {
    prepared()
    putToolIn(w.technician, job.id, { tool: 'Plug', count: 4, for_step_id: w.wheel, before_step_id: w.wheel })
    const boot = w.add('boot')
    voidJobSafely(w.desk, job.id, { reason: 'Not wanted' })
    for (const url of [`/bench/jobs/${boot.id}`, `/work-orders/${w.order}`]) {
      const html = await page(t, url, t.cookie('desk', 'Ilse Marrok'))
      expect(html).toContain('Tools in the vehicle')
      expect(html).toMatch(/Plug, 4 of them[\s\S]*data-label="Needed for">Wheel off[\s\S]*still in/)
    }
    expect(await page(t, '/tools-out', cookie)).toContain('Plug, 4 of them')
  })

  test('the form of a free tool takes a count, and keeps what was typed', async () => {
    const { reply } = await fillIn(t, cookie, card(), { tool: 'Rag', count: '0' })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('value="Rag"')
    expect((await fillIn(t, cookie, card(), { tool: 'Rag', count: '2' })).reply.statusCode).toBe(303)
    expect(await shown()).toContain('Rag, 2 of them')
  })
})

describe('a step opened again', () => {
  const again = () => `${card()}/steps/${job.steps[0]!.id}/open-again`
  beforeEach(() => {
    prepared()
    w.finishJoint(job.joints[0]!.id)
    closeStep(w.technician, job.id, w.wheel, {})
    turnEngine(w.technician, job.id, { how: 'by_hand' })
    w.checkFine(job.final_checks[0]!.id)
    t.clock.set(t.clock.now() + 60_000)
  })

  test('asks why and who bears it, and says what follows', async () => {
    expect(await page(t, again(), cookie)).toContain('Its 0.3 h count again.')
    const { reply: empty } = await fillIn(t, cookie, again(), { reason: '' })
    expect(empty.statusCode).toBe(422)
    const { reply } = await fillIn(t, cookie, again(), { reason: 'Guard forgotten' })
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `${card()}#next`])
    const html = await shown()
    expect(html).toContain(
      '&quot;Wheel off&quot; is open again. Its 0.3 h count again; we bear them. Look whether it was disturbed: tensioner. To be done once more: idles evenly and the engine turned by hand.',
    )
    expect(html).toContain('opened again over it: look whether it was disturbed')
    expect(html).toContain('Guard forgotten')
    const [, opening] = planOfOrder(w.desk, w.order).openings
    expect(opening).toMatchObject({ reason: 'Guard forgotten', borne_by: 'us' })
  })

  test('a tap from an old page is sent to the question', async () => {
    const key = hiddenFields(await page(t, again(), cookie), again()).filter(([name]) => name === '_key')
    const reply = await sendForm(t, `${card()}/openings`, cookie, [...key, ['step_id', job.steps[0]!.id]])
    expect(reply.headers.location).toBe(again())
    expect(planOfOrder(w.desk, w.order).openings).toHaveLength(1)
  })
})

test('the clock is one tap, and starting on another job says which was stopped', async () => {
  const boot = w.add('boot')
  await tap('clock-starts')
  expect(await shown()).toMatch(/Your clock runs on this job since \d\d:\d\d\./)
  const other = `/bench/jobs/${boot.id}`
  const hidden = hiddenFields(await page(t, other, cookie), `${other}/clock-starts`)
  await sendForm(t, `${other}/clock-starts`, cookie, hidden)
  expect(await page(t, other, cookie)).toContain(
    'It was stopped on 2031-0001 A, Cam belt: renew: a person has one clock.',
  )
  const running = hiddenFields(await page(t, other, cookie), `${other}/clock-stops`)
  await sendForm(t, `${other}/clock-stops`, cookie, running)
  expect(await page(t, other, cookie)).toContain('Your clock is stopped.')
  // the desk has none
  expect(await page(t, card(), t.cookie('desk', 'Ilse Marrok'))).not.toContain('Start the clock')
})

test('My jobs says what comes next, what is wrong and whom it waits for', async () => {
  addProcedureRevision(w.owner, w.procedure, {
    layout: 'circle',
    count: 2,
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
    reuse: 'free',
    severity: 'safety',
    on_failure: 'restart',
    source: 'Invented maker’s manual, page 12',
  })
  const bearing = w.add('bearing')
  const bench = () => page(t, '/bench', cookie)
  expect(await bench()).toContain('Belt and wheels marked')
  prepared()
  w.tighten(job.joints[0]!.id, 1, 36)
  expect(await bench()).toMatch(/Tensioner: [^<]*to do again/)
  w.finishJoint(bearing.joints[0]!.id)
  expect(await bench()).toContain('Second person wanted: Drive flange')
})

test('the causes of a finding say when and by whom, no closer than is known', async () => {
  for (const [on, exactness] of [
    ['2030-06-15', 'month'],
    ['2029-07-01', 'year'],
    ['2028-03-02', 'day'],
  ] as const) {
    notePriorWork(w.desk, w.vehicle, { operation: 'Axle shaft boot: replace', by: 'other', on, exactness })
  }
  w.add('bulb')
  const html = await page(t, `${card()}/finding`, cookie)
  for (const when of ['about June 2030', 'about 2029', '2 March 2028']) {
    expect(html).toContain(`Axle shaft boot: replace, by another workshop, ${when}`)
  }
  expect(html).toContain('Rear lamp bulb: replace, by us, in the house now')
  expect(html).not.toContain('2030-06-15')
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addAttachment, keepSentFile } from '../../src/attachments/index.ts'
import { createOperation } from '../../src/catalogue/index.ts'
import { leaveJoint } from '../../src/fastening/index.ts'
import { standingOfOrder } from '../../src/hand-back/index.ts'
import {
  addJob,
  completeJob,
  type Job,
  jobById,
  openStep,
  planOfOrder,
  putToolIn,
  recordMark,
  startClock,
} from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { hiddenFields, scenario, sendForm } from '../support/http.ts'
import { picture, wave } from '../support/media.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'
import { tensionerOperation } from '../support/tensioner-operation.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = addJob(w.desk, w.order, { operation_id: tensionerOperation(w) })
  cookie = t.cookie('technician', 'Tobin Rask')
})

const card = (of = job) => `/bench/jobs/${of.id}`
const shown = (of = job) => page(t, card(of), cookie)
async function tap(what: string, more: Record<string, string> = {}, of = job) {
  const action = `${card(of)}/${what}`
  const hidden = Object.fromEntries(hiddenFields(await shown(of), action))
  const reply = await sendForm(t, action, cookie, Object.entries({ ...hidden, ...more }))
  expect(reply.statusCode, `${what} ${reply.body.slice(0, 500)}`).toBe(303)
  return shown(of)
}
const nextOf = (html: string) =>
  [...html.matchAll(/<p class="say-next">([^<]*)<\/p>/g)].map(([, title]) => title!.replaceAll('&quot;', '"')).at(-1)
const words = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
const photo = async (ctx = w.technician) =>
  keepSentFile(ctx, { filename: 'photo.jpg', bytes: await (await picture()).jpeg().toBuffer() }, '/file')
const markAll = () => {
  for (const mark of job.marks) recordMark(w.technician, mark.id, {})
}

test('marks that are behind a step come after it, and before the work, which somebody says is done', async () => {
  expect(nextOf(await shown())).toBe('Wheel off')
  expect(words(await shown())).toContain('Chain to both wheels cannot be done yet: it is behind &quot;Wheel off&quot;')
  expect(nextOf(await tap('openings'))).toBe('Chain to both wheels')
  await scenario(t, {
    ...{ as: 'technician', post: `/api/jobs/${job.id}/completion`, body: {}, expect: 409, problem: 'mark-missing' },
  })
  expect(nextOf(await tap('marks'))).toBe('Tensioner as it sits')
  await fillIn(t, cookie, `${card()}/marks/${job.marks[1]!.id}/no-photo`, { note: 'No light for it' })
  putToolIn(w.technician, job.id, { tool: 'Plug', count: 5, before_step_id: w.wheel, job_tool_id: job.tools[0]!.id })
  // neither the tools nor the step are asked for before the work
  expect(nextOf(await shown())).toBe('The work itself is done')
  const done = await tap('completion')
  expect(words(done)).toMatch(/The work itself is done \d\d:\d\d, Tobin Rask/)
  expect(nextOf(done)).toBe('Plug, 5 of them, out')
})

test('a step closed over work of which nobody said that it is done is warned of before and after, not refused', async () => {
  openStep(w.technician, job.id, w.wheel, {})
  markAll()
  const unsaid = 'obody has said that the work itself is done'
  expect(await shown()).toContain(`n${unsaid}`)
  const closed = await tap('closings')
  expect(closed).toContain(`&quot;Wheel off&quot; is closed again. N${unsaid}.`)
  expect(nextOf(closed)).toBe('The work itself is done')
  expect(words(closed)).toContain('closed again over it, and nobody has said so')
  expect(words(closed)).toContain(
    'Engine turned by hand, two turns, nothing touches cannot be done yet: the work comes first',
  )
  // whoever says it now has said it
  expect(nextOf(await tap('completion'))).toBe('Engine turned by hand, two turns, nothing touches')
})

test('another job of the order is warned of by its name; one with a joint says it by its signatures', async () => {
  w.add('boot')
  openStep(w.technician, job.id, w.wheel, {})
  markAll()
  completeJob(w.technician, job.id, {})
  expect(words(await shown())).toContain(
    'Wheel off: closed again nobody has said that the work itself is done: job B, axle shaft boot: replace',
  )
  const bearing = w.add('bearing')
  expect(words(await shown(bearing))).not.toContain('The work itself is done')
  await scenario(t, {
    ...{ as: 'technician', post: `/api/jobs/${bearing.id}/completion`, body: {}, expect: 409, problem: 'job-has-plan' },
  })
})

test('strip-down alone is not done while it is open, whatever somebody says', () => {
  const boot = w.add('boot')
  openStep(w.technician, job.id, w.wheel, {})
  completeJob(w.technician, boot.id, {})
  expect(standingOfOrder(w.desk, w.order).done_job_ids.has(boot.id)).toBe(false)
  w.close(job, w.wheel)
  expect(standingOfOrder(w.desk, w.order).done_job_ids.has(boot.id)).toBe(true)
})

describe('a mark that asks for a photograph', () => {
  const mark = () => job.marks[1]!.id
  const made = () => jobById(w.desk, job.id).marks[1]!.made_at
  beforeEach(() => openStep(w.technician, job.id, w.wheel, {}))

  test('is made by attaching one, by whom and when; without one it asks why', async () => {
    const page = await shown()
    expect(page).toContain(`${card()}/marks/${mark()}/no-photo`)
    expect(page).not.toMatch(new RegExp(`value="${mark()}"`))
    const kept = await photo(w.desk)
    addAttachment(w.desk, { subject: { mark_id: mark() } }, kept)
    expect(made()).toBeDefined()
    const { body } = await scenario(t, { as: 'desk', get: `/api/marks/${mark()}/result`, expect: 200 })
    expect(body.created_by).toBe(w.desk.actor!.id)
    expect(words(await shown())).toMatch(/Tensioner as it sits \d\d:\d\d, desk token/)
    // a second one is one more picture, not a second mark
    addAttachment(w.technician, { subject: { mark_id: mark() } }, kept)
  })

  test('says plainly that there is none, and why', async () => {
    const form = `${card()}/marks/${mark()}/no-photo`
    expect((await fillIn(t, cookie, form, { note: '' })).reply.statusCode).toBe(422)
    expect((await fillIn(t, cookie, form, { note: 'No light for it' })).reply.statusCode).toBe(303)
    expect(words(await shown())).toMatch(/Tensioner as it sits \d\d:\d\d, Tobin Rask; made, no photo: No light for it/)
  })

  test('is not made by a sound, nor by what was taken after the work', async () => {
    const sound = await keepSentFile(w.technician, { filename: 'x.wav', bytes: wave() }, '/file')
    addAttachment(w.technician, { subject: { mark_id: mark() } }, sound)
    addAttachment(w.technician, { subject: { mark_id: mark() }, moment: 'after' }, await photo())
    expect(made()).toBeUndefined()
  })
})

test('a mark cannot be seen behind a step and come before it', async () => {
  const post = (marks: object[], rest: object) =>
    scenario(t, {
      ...{ as: 'owner', post: '/api/operations', expect: 422, ...rest },
      body: {
        ...{ name: 'Chain: renew', hours: 1, access_step_ids: [w.carrier], joints: [], looks: [], final_checks: [] },
        marks,
      },
    })
  const marks = [
    { text: 'Same', behind_step_id: w.wheel, before_step_id: w.wheel },
    { text: 'Outer', behind_step_id: w.carrier, before_step_id: w.wheel },
    { text: 'Elsewhere', behind_step_id: w.hub },
  ]
  await post(marks.slice(0, 2), { fields: ['/marks/0/before_step_id', '/marks/1/before_step_id'] })
  await post(marks.slice(2), { fields: ['/marks/0/behind_step_id'] })
  const { body } = await post([{ text: 'Between', behind_step_id: w.wheel, before_step_id: w.carrier, photo: true }], {
    expect: 201,
  })
  expect(body.marks).toEqual([{ text: 'Between', behind_step_id: w.wheel, before_step_id: w.carrier, photo: true }])
})

test('a mark behind a step holds up what is deeper, and the first touch of a joint', async () => {
  const operation = createOperation(w.owner, {
    ...{ name: 'Cover: reseal', hours: 1, access_step_ids: [w.carrier], looks: [], final_checks: [] },
    joints: [{ name: 'Cover', procedure_id: w.procedure, behind_step_id: w.wheel }],
    marks: [{ text: 'Wheel to its casting', behind_step_id: w.wheel }],
  }).id
  const cover = addJob(w.desk, w.openOrder(), { operation_id: operation })
  openStep(w.technician, cover.id, w.wheel, {})
  expect(() => openStep(w.technician, cover.id, w.carrier, {})).toThrow(/wheel to its casting/)
  expect(() => w.tighten(cover.joints[0]!.id, 1)).toThrow(/Wheel to its casting/)
  expect(words(await shown(cover))).toContain('cannot be done yet: first: Wheel to its casting')
  recordMark(w.technician, cover.marks[0]!.id, {})
  openStep(w.technician, cover.id, w.carrier, {})
  w.tighten(cover.joints[0]!.id, 1)
})

test('starting the clock says beforehand which one it stops', async () => {
  const elsewhere = w.add('boot', w.openOrder())
  startClock({ ...w.technician, actor: personOf('Tobin Rask') }, elsewhere.id, {})
  const { number } = planOfOrder(w.desk, elsewhere.work_order_id).order
  expect(await shown()).toContain(`This stops your clock on ${number} A, Axle shaft boot: replace, which has run since`)
  expect(await tap('clock-starts')).toContain(
    `Your clock runs on this job. It was stopped on ${number} A, Axle shaft boot: replace`,
  )
})

function personOf(name: string) {
  const id = t.deps.store.raw.prepare('select id from people where name = ?').pluck().get(name) as string
  return { id, name, role: 'technician' as const }
}

test('its sound before and after the work stands side by side on the card', async () => {
  const sound = await keepSentFile(w.technician, { filename: 'x.wav', bytes: wave() }, '/file')
  const record = (moment: 'before' | 'after') =>
    addAttachment(w.technician, { subject: { job_id: job.id }, moment }, sound)
  record('before')
  expect(await shown()).toMatch(/id="sound"[\s\S]*After the work: not recorded yet\./)
  record('after')
  const html = await shown()
  expect(html).toMatch(/id="sound"[\s\S]*class="before-and-after"[\s\S]*Before\.[\s\S]*After\.[\s\S]*id="attachments"/)
  expect(html).not.toContain('not recorded yet')
  // and not once more further down
  expect(html.match(/<audio/g)).toHaveLength(2)
})

test('My jobs says which joint was left, by whom, when and why, and what is open on it', async () => {
  const bearing = w.add('bearing', w.openOrder())
  w.tighten(bearing.joints[0]!.id, 1, 36)
  leaveJoint({ ...w.technician, actor: personOf('Tobin Rask') }, bearing.joints[0]!.id, { reason: 'Called away' })
  const html = await page(t, '/bench', cookie)
  expect(words(html)).toMatch(/Drive flange: left half way \(\d\d:\d\d, Tobin Rask\): called away; [^;]*to do again/)
  // the page of the job begins at its top
  expect(html).toContain(`href="${card(bearing)}"`)
  expect(html).not.toContain('#next')
})

test('what stands in the way of the engine is said with the way to it', async () => {
  const bearing = w.add('bearing')
  openStep(w.technician, job.id, w.wheel, {})
  markAll()
  completeJob(w.technician, job.id, {})
  putToolIn(w.technician, bearing.id, { tool: 'Holding plate' })
  const own = putToolIn(w.technician, job.id, { tool: 'Pin' })
  w.tighten(bearing.joints[0]!.id, 1)
  const html = await shown()
  const engine = html.slice(html.indexOf('Engine turned by hand'), html.indexOf('First start'))
  expect(engine).toContain(`<a href="${card(bearing)}">holding plate is still in</a>`)
  expect(engine).toContain(`<a href="/bench/joints/${bearing.joints[0]!.id}">drive flange is not signed`)
  // what is on this card needs no way to it
  expect(engine).toContain('cannot be done yet: pin is still in; ')
  expect(words(html)).toContain('First start cannot be done yet: turn it by hand first')
  await scenario(t, { as: 'technician', post: `/api/tools-in/${own.id}/removal`, body: {}, expect: 201 })
  expect(words(await shown())).not.toContain('pin is still in')
})

test('My jobs says what a job waits for that cannot go on', async () => {
  const boot = w.add('boot')
  const bearing = w.add('bearing')
  openStep(w.technician, job.id, w.wheel, {})
  markAll()
  for (const step of [w.carrier, w.shaft]) openStep(w.technician, boot.id, step, {})
  completeJob(w.technician, boot.id, {})
  openStep(w.technician, bearing.id, w.hub, {})
  expect(words(await page(t, '/bench', cookie))).toContain(
    'Axle shaft out: closed again: waits, &quot;Hub carrier out&quot; is still open',
  )
})

import { beforeEach, describe, expect, test } from 'vitest'
import { standingOfOrder, turnEngine } from '../../src/hand-back/index.ts'
import { addJob, completeJob, type Job, openStep, putToolIn, recordMark } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'
import { tensionerOperation } from '../support/tensioner-operation.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job
let cookie: string

const card = () => `/bench/jobs/${job.id}`
const shown = () => page(t, card(), cookie)
const words = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')

describe('tools counted out', () => {
  let out: string
  beforeEach(async () => {
    t = await app()
    w = orderWorld(t)
    job = addJob(w.desk, w.order, { operation_id: tensionerOperation(w) })
    cookie = t.cookie('technician', 'Tobin Rask')
    openStep(w.technician, job.id, w.wheel, {})
    for (const mark of job.marks) recordMark(w.technician, mark.id, {})
    completeJob(w.technician, job.id, {})
    const { id } = putToolIn(w.technician, job.id, { tool: 'Plug', count: 5, before_step_id: w.wheel })
    out = `${card()}/tools/${id}/out`
  })
  const toolId = () => out.split('/').at(-2)

  test('partly: what is lost and where it may be is said, and blocks by that until it is found', async () => {
    const short = await fillIn(t, cookie, out, { count: '4' })
    expect(short.reply.body).toContain('5 went in, 4 came out: find the fifth.')
    const said = { count: '4', may_be: 'in the sump' }
    expect((await fillIn(t, cookie, out, said)).reply.statusCode).toBe(303)
    const lost = '4 of 5 out, one lost; where it may be: in the sump'
    const html = words(await shown())
    expect(html).toContain('Plug: one lost. Until it is found, nothing is closed over it.')
    expect(html).toMatch(new RegExp(`Plug, 5 of them, out ${lost} \\(\\d\\d:\\d\\d, Tobin Rask\\)`))
    expect(standingOfOrder(w.desk, w.order).blockers.map(each => each.sentence)).toContain(`Plug: ${lost}.`)
    expect(() => turnEngine(w.technician, job.id, { how: 'by_hand' })).toThrow(/where it may be: in the sump/)
    expect(words(await page(t, '/tools-out', cookie))).toContain(lost)
    const { body } = await scenario(t, { as: 'desk', get: `/api/tools-in/${toolId()}`, expect: 200 })
    expect(body.missing).toEqual({ count: 1, may_be: 'in the sump' })
    expect((await fillIn(t, cookie, out, { count: '5' })).reply.statusCode).toBe(303)
    expect(words(await shown())).toContain('Plug: all 5 are out.')
  })

  test('only the owner says that the rest is not in the vehicle, and how that is known', async () => {
    await fillIn(t, cookie, out, { count: '4', may_be: 'on the floor' })
    expect(await page(t, out, cookie)).not.toContain('name="not_inside"')
    const body = { not_inside: 'Found flat under the lift, thrown away' }
    const removal = { post: `/api/tools-in/${toolId()}/removal`, body }
    await scenario(t, { ...removal, as: 'technician', expect: 403, problem: 'role-not-allowed' })
    const owner = t.cookie('owner', 'Marta Oake')
    await fillIn(t, owner, out, { count: '4', ...body })
    expect(words(await shown())).toContain('Marta Oake: Found flat under the lift, thrown away')
    expect(standingOfOrder(w.desk, w.order).blockers.map(each => each.reason)).not.toContain('tool_in')
    await scenario(t, {
      ...{ as: 'technician', post: `/api/tools-in/${toolId()}/shortfalls`, body: { count: 4, may_be: 'anywhere' } },
      ...{ expect: 409, problem: 'tool-out' },
    })
  })

  test.each([
    ['nothing is missing', { count: 5, may_be: 'in the sump' }, ['/count']],
    ['more than went in', { count: 6, may_be: 'in the sump' }, ['/count']],
    ['nowhere', { count: 4, may_be: '' }, ['/may_be']],
  ])('refuses %s', async (_, body, fields) => {
    await scenario(t, {
      ...{ as: 'technician', post: `/api/tools-in/${toolId()}/shortfalls`, body, expect: 422, fields },
    })
  })

  test('a single thing can be lost too, and a count is asked for as a count', async () => {
    const pin = putToolIn(w.technician, job.id, { tool: 'Pin' })
    const form = `${card()}/tools/${pin.id}/out`
    expect(await shown()).toContain(form)
    await fillIn(t, cookie, form, { may_be: 'behind the timing wheel' })
    expect(words(await shown())).toContain('0 of 1 out, one lost; where it may be: behind the timing wheel')
    const { reply } = await fillIn(t, cookie, out, { count: 'four' })
    expect(reply.body).toContain('This must be a whole number, such as 12.')
    expect(reply.body).not.toContain('12.5')
  })
})

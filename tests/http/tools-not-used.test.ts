import { beforeEach, describe, expect, test } from 'vitest'
import { addJob, type Job, openStep, putToolIn, recordMark } from '../../src/work-orders/index.ts'
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

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = addJob(w.desk, w.order, { operation_id: tensionerOperation(w) })
  cookie = t.cookie('technician', 'Tobin Rask')
})

const words = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
const open = () => {
  for (const mark of job.marks) recordMark(w.technician, mark.id, {})
  openStep(w.technician, job.id, w.wheel, {})
}
const asked = async (): Promise<string[]> => {
  const { body } = await scenario(t, { as: 'desk', get: `/api/work-orders/${w.order}`, expect: 200 })
  return body.to_ask
    .filter((each: { reason: string }) => each.reason === 'tool_not_said')
    .map((each: { sentence: string }) => each.sentence)
}
const omit = (tool: string, more: object = {}) =>
  scenario(t, {
    ...{ as: 'technician', post: `/api/jobs/${job.id}/planned-tools/${tool}/omission` },
    ...{ body: { reason: 'It is not needed on this one' }, expect: 201, ...more },
  })

describe('a tool of the plan that did not go in', () => {
  test('is asked about once its step was opened, until somebody says why', async () => {
    const [tool] = job.tools
    expect(await asked()).toEqual([])
    open()
    expect(await asked()).toHaveLength(job.tools.length)
    expect((await asked())[0]).toMatch(/^By its plan .* goes in, and nobody has written that it did\. Was it used\?$/)
    const { body } = await omit(tool!.id)
    expect(body.not_used).toMatchObject({ reason: 'It is not needed on this one', by: expect.any(String) })
    expect(await asked()).toHaveLength(job.tools.length - 1)
    const read = await scenario(t, { as: 'desk', get: `/api/jobs/${job.id}`, expect: 200 })
    expect(read.body.tools[0]).toEqual(body)
    await omit(tool!.id, { expect: 409, problem: 'tool-not-to-come' })
    await omit('none', { expect: 404 })
    await omit(tool!.id, { as: 'desk', expect: 403 })
    await omit(tool!.id, { body: { reason: '' }, expect: 422, fields: ['/reason'] })
  })

  test('is refused of one that went in', async () => {
    open()
    const [{ id, tool }] = job.tools as [Job['tools'][number]]
    putToolIn(w.technician, job.id, { tool, job_tool_id: id })
    const { body } = await omit(id, { expect: 409, problem: 'tool-not-to-come' })
    expect(body.detail).toContain('went in')
  })

  test('is said on the card by one tap, and stays there with who and why', async () => {
    open()
    const [tool] = job.tools
    const form = `/bench/jobs/${job.id}/planned-tools/${tool!.id}/omission`
    expect(await page(t, `/bench/jobs/${job.id}`, cookie)).toContain(`href="${form}"`)
    expect(await page(t, form, cookie)).toContain('<button type="submit" name="reason" value="Another tool was used">')
    await fillIn(t, cookie, form, { reason: 'Another tool was used' })
    const card = words(await page(t, `/bench/jobs/${job.id}`, cookie))
    expect(card).toMatch(new RegExp(`${tool!.tool}.* not used Another tool was used, .*Tobin Rask`))
  })
})

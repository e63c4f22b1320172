import { beforeEach, describe, expect, test } from 'vitest'
import { findDoubts, jointStates, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { reportBatchFault } from '../../src/parts/index.ts'
import { addPartLine, removePartLine } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { issueNew, jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let order: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  order = `/work-orders/${w.order}`
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const LINE = { quantity: 2, condition: 'new', cost_minor: 4000, price_minor: 8000 } as const
const total = async () => (await scenario(t, { as: 'desk', get: `/api${order}`, expect: 200 })).body.total_minor
const remove = (job: string, line: string, more: object = {}) =>
  scenario(t, {
    ...{ as: 'desk', post: `/api/jobs/${job}/part-lines/${line}/removal`, body: { reason: 'Not used' }, expect: 201 },
    ...more,
  })

describe('a part that was put on wrongly', () => {
  test('is taken off with its reason: it stays to be read, and is charged no more', async () => {
    const job = w.add('bulb')
    const before = await total()
    const line = addPartLine(w.desk, job.id, { ...LINE, part_id: w.part })
    expect(await total()).toBe(before + 19_200)
    const { body, headers } = await remove(job.id, line.id)
    expect(body).toMatchObject({ id: line.id, quantity: 2, removed: { reason: 'Not used', by: expect.any(String) } })
    expect(headers.location).toBe(`/api/jobs/${job.id}/part-lines/${line.id}`)
    expect(await total()).toBe(before)
    const kept = await scenario(t, { as: 'desk', get: `/api/jobs/${job.id}/part-lines`, expect: 200 })
    expect(kept.body.items).toMatchObject([{ id: line.id, removed: { reason: 'Not used' } }])
    const whole = await scenario(t, { as: 'desk', get: `/api/jobs/${job.id}`, expect: 200 })
    expect(whole.body.part_lines).toEqual([])
  })

  test('is refused the second time, on another job, without a reason, and once the vehicle has left', async () => {
    const job = w.add('bulb')
    const other = w.add('bulb')
    const line = addPartLine(w.desk, job.id, { ...LINE, part_id: w.part })
    await remove(other.id, line.id, { expect: 404 })
    await remove(job.id, line.id, { body: { reason: ' ' }, expect: 422, fields: ['/reason'] })
    await remove(job.id, line.id, { as: 'technician' })
    await remove(job.id, line.id, { expect: 409, problem: 'part-line-taken-off' })
    const left = addPartLine(w.desk, job.id, { ...LINE, part_id: w.part })
    for (const { id } of [job, other])
      await scenario(t, { as: 'technician', post: `/api/jobs/${id}/completion`, body: {}, expect: 201 })
    w.agree(1_000_000)
    await scenario(t, { as: 'desk', post: `/api${order}/hand-back`, body: {}, expect: 201 })
    await remove(job.id, left.id, { expect: 409, problem: 'work-order-handed-back' })
  })

  test('comes off by the page of its order, by name, and is struck through there', async () => {
    const job = w.add('bulb')
    expect(await page(t, order, t.cookie('desk'))).not.toContain('Take a part off')
    const line = addPartLine(w.desk, job.id, { ...LINE, part_id: w.part, batch: '31-A07' })
    const form = `${order}/part-line-removals`
    expect(await page(t, order, t.cookie('technician'))).toContain(`href="${form}"`)
    expect(read(await page(t, form, t.cookie('desk')))).toContain('A: 2 × HB-204 Hub bearing, batch 31-A07')
    const refused = await fillIn(t, t.cookie('desk'), form, { line_id: 'none', reason: 'Typed twice' })
    expect(refused.reply.body).toContain('No part of this order is called so.')
    expect(refused.reply.body).toContain('value="Typed twice"')
    const { reply } = await fillIn(t, t.cookie('desk'), form, { line_id: line.id, reason: 'Typed twice' })
    expect(reply.headers.location).toBe(`${order}#jobs`)
    const html = await page(t, order, t.cookie('desk'))
    expect(html).toContain('<s>2 × HB-204 Hub bearing, new, batch 31-A07</s>')
    expect(read(html)).toContain('taken off again by desk person, 3 Mar 2031, 08:00: Typed twice')
    expect(html).not.toContain('Take a part off')
  })
})

describe('new fasteners that were issued to a joint', () => {
  const doubtsOf = (joint: string) => findDoubts(w.desk, [joint]).map(({ doubt }) => doubt.id)
  const signed = (more: object = {}) => {
    const joint = jointWith(t, w, { count: 2 })
    for (const stage of [1, 2])
      for (const position of [1, 2])
        recordTorque(w.technician, joint, reading(w, position, stage, stage === 1 ? 25 : 90))
    const line = issueNew(w, joint, 2, more)
    signOffJoint(w.technician, joint, { as: 'technician' })
    return { joint, line }
  }

  test('taken off leave the joint unsigned until others are noted', () => {
    const { joint, line } = signed()
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({ signed: true })
    removePartLine(w.technician, line.job_id, line.id, 'Wrong length')
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({
      signed: false,
      sentence: expect.stringContaining('new fasteners are not noted on it'),
    })
    issueNew(w, joint, 2)
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({ signed: true })
  })

  test('stay in doubt when their batch is found bad and they are taken off after, not where they came off before', () => {
    const { joint, line } = signed()
    const fault = reportBatchFault(w.desk, w.part, { batch: line.batch ?? '', reason: 'Heads crack.' })
    removePartLine(w.technician, line.job_id, line.id, 'Never mind')
    expect(doubtsOf(joint)).toEqual([`${fault.id}.${joint}`])
    const other = signed({ batch: 'L-9' })
    removePartLine(w.technician, other.line.job_id, other.line.id, 'Never fitted')
    reportBatchFault(w.desk, w.part, { batch: 'L-9', reason: 'Heads crack.' })
    expect(doubtsOf(other.joint)).toEqual([])
  })
})

describe('a part put on by the page of the order', () => {
  const line = { quantity: '2', condition: 'new' }
  test('costs and is sold as it was last, where the desk leaves that empty', async () => {
    const job = w.add('bulb')
    const form = `${order}/part-lines`
    const typed = { ...line, job_id: job.id, part_id: w.part }
    const unknown = await fillIn(t, t.cookie('desk'), form, typed)
    expect(unknown.reply.body).toContain('Write the price: this part has not been put on a job before.')
    await fillIn(t, t.cookie('desk'), form, { ...typed, price_minor: '80.00' })
    expect(await page(t, form, t.cookie('desk'))).toContain('HB-204 Hub bearing, last €80.00')
    await fillIn(t, t.cookie('desk'), form, { ...typed, cost_minor: '41.00' })
    await fillIn(t, t.cookie('desk'), form, typed)
    const { body } = await scenario(t, { as: 'desk', get: `/api/jobs/${job.id}/part-lines`, expect: 200 })
    expect(body.items).toMatchObject([
      { price_minor: 8000, cost_minor: 0 },
      { price_minor: 8000, cost_minor: 4100 },
      { price_minor: 8000, cost_minor: 4100 },
    ])
  })

  test('is for the only job there is, and asks which where there are several', async () => {
    const job = w.add('bulb')
    expect(await page(t, `${order}/part-lines`, t.cookie('desk'))).toContain(`<option value="${job.id}" selected>`)
    w.add('boot')
    expect(await page(t, `${order}/part-lines`, t.cookie('desk'))).not.toContain(`<option value="${job.id}" selected>`)
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { beltOperation } from '../support/belt-operation.ts'
import { page } from '../support/forms.ts'
import { scenario, sendForm } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  cookie = t.cookie('technician')
})

describe('the marks of a joint', () => {
  test('are asked for on its page before anything is turned, with the tap that makes them', async () => {
    const job = addJob(w.desk, w.order, { operation_id: beltOperation(w) })
    const joint = job.joints[0]!.id
    const [ofStep, ofJob, ofJoint] = job.marks.map(mark => mark.id) as [string, string, string]
    const address = `/bench/joints/${joint}`
    const html = await page(t, address, cookie)
    expect(html).toContain('First</strong> Arm against its scale marked: mark it before anything is turned.')
    expect(html).toContain(`mark_id&#x3D;${ofJoint}`)
    // nothing can be recorded before, so no reading is asked for
    expect(html).not.toContain('>Record fastener')
    const tap = (mark_id: string) =>
      sendForm(t, `${address}/marks`, cookie, [
        ['mark_id', mark_id],
        ['_key', t.deps.ids.next()],
      ])
    // what comes before a step, and not before this joint, is made on the card
    expect((await tap(ofStep)).statusCode).toBe(422)
    expect((await tap(ofJob)).statusCode).toBe(303)
    const made = await tap(ofJoint)
    expect([made.statusCode, made.headers.location]).toEqual([303, `${address}#now`])
    const marked = await page(t, address, cookie)
    expect(marked).not.toContain('mark it before anything is turned')
    expect(marked).toContain('>Record fastener')
    w.tighten(joint, 1)
  })
})

describe('a fastener out of its turn', () => {
  const record = (joint: string, position: number, more: object = {}) =>
    scenario(t, {
      ...{ as: 'technician', post: `/api/joints/${joint}/torque-records`, expect: 201 },
      body: reading(w, position, 1, 25, more),
    })
  const said = (joint: string) =>
    t.deps.store.raw
      .prepare('select out_of_order_reason from torque_records where joint_id = ? order by id')
      .pluck()
      .all(joint)

  test('is recorded through the API with the words that nobody gave a reason; the page asks for one', async () => {
    const joint = jointWith(t, w, { count: 4, stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
    // a circle of four is tightened 1 3 2 4 (methods, order)
    await record(joint, 1)
    const { body } = await record(joint, 2)
    expect(body.out_of_order_reason).toBe('no reason given')
    await record(joint, 4, { out_of_order_reason: 'Number 3 cannot be reached yet' })
    await record(joint, 3)
    expect(said(joint)).toEqual([null, 'no reason given', 'Number 3 cannot be reached yet', null])
    expect(await page(t, `/joints/${joint}/record`, cookie)).toContain('out of its turn: no reason given.')
    const other = jointWith(t, w, { count: 4, stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
    const fields: [string, string][] = [
      ...Object.entries({ position: '2', stage: '1', fastener: '1', basis: 'measured', unit: 'N.m', value: '25' }),
      ['wrench_id', w.wrench],
      ['_key', t.deps.ids.next()],
    ]
    const asked = await sendForm(t, `/bench/joints/${other}`, cookie, fields)
    expect(asked.statusCode).toBe(422)
    expect(asked.body).toContain('Fastener 1 is next. Say why it is another one’s turn.')
    expect(said(other)).toEqual([])
  })

  test('but not what happened to it, nor what is put right', async () => {
    const joint = jointWith(t, w, { count: 4, on_failure: 'restart', reuse: 'free' })
    const { body } = await record(joint, 1)
    await scenario(t, {
      ...{ as: 'technician', post: `/api/joints/${joint}/torque-records`, expect: 201 },
      body: { position: 4, stage: 1, event: 'slipped' },
    })
    await record(joint, 1, { value: 26, supersedes: body.id, reason: 'Misread' })
    // done again by itself, whenever that is
    await record(joint, 4)
    expect(said(joint)).toEqual([null, null, null, null])
  })
})

test('a wrench on the page of a joint leads to its page in the register', async () => {
  const joint = jointWith(t, w)
  const href = /href="([^"]*\/wrenches\/[^"]*)"/.exec(await page(t, `/bench/joints/${joint}`, cookie))![1]!
  expect(href).toBe(`/tools/wrenches/${w.wrench}`)
  await page(t, href, cookie)
  expect((await t.app.inject({ url: '/wrenches', headers: { cookie } })).statusCode).toBe(404)
})

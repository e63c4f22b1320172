import { beforeEach, describe, expect, test } from 'vitest'
import { loadJoint, openDoubts, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  joint = jointWith(t, w, { reuse: 'free', on_failure: 'restart' })
})

const record = (position: number, stage: number, value: number) =>
  recordTorque(w.technician, joint, reading(w, position, stage, value))
const post = (body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/joints/${joint}/torque-records`, body, expect: 201, ...more })
const state = (position: number) => loadJoint(w.desk, joint).state.fasteners[position - 1]!

describe('it was on another fastener', () => {
  test('the reading counts there and no more here; the old record stays as it was', async () => {
    const old = record(1, 1, 25)
    const { body } = await post(reading(w, 4, 1, 25, { supersedes: old.id, reason: 'Tapped the wrong one' }))
    expect(body).toMatchObject({ position: 4, supersedes: old.id, verdict: 'conforms' })
    expect([state(1).next_stage, state(4).next_stage]).toEqual([1, 2])
    const list = await scenario(t, { as: 'desk', get: `/api/joints/${joint}/torque-records`, expect: 200 })
    expect(list.body.items[0]).toEqual(old)
  })

  test('not where that stage cannot have been, nor to another stage', async () => {
    record(1, 1, 25)
    const old = record(1, 2, 90)
    const why = { supersedes: old.id, reason: 'Tapped the wrong one' }
    const { body } = await post(reading(w, 4, 2, 90, why), { expect: 409, problem: 'stage-before-its-turn' })
    expect(body.detail).toContain('Fastener 2 (position 4) is at stage 1')
    await post(reading(w, 1, 1, 25, why), { expect: 422, fields: ['/stage'] })
  })
})

describe('it was not done', () => {
  test('nothing of it counts, and the record says so with its reason', async () => {
    const old = record(1, 1, 36)
    const why = { supersedes: old.id, reason: 'That was the wrench on the bench' }
    const { body } = await post({ position: 1, stage: 1, withdrawn: true, ...why })
    expect(body).toMatchObject({ withdrawn: true, value: 36, verdict: null, value_si: null })
    expect(body.wrench_id).toBeUndefined()
    expect(state(1)).toMatchObject({ needs: 'tighten', next_stage: 1, fault: null })
    // it was, after all
    await post(reading(w, 1, 1, 25, { supersedes: body.id, reason: 'It was done, and read 25' }))
    expect(state(1).next_stage).toBe(2)
  })

  test.each([
    ['without what it was', { supersedes: undefined, reason: undefined }, ['/supersedes']],
    ['with a reading', { value: 25, unit: 'N.m', basis: 'measured' }, ['/withdrawn']],
    ['with an event', { event: 'slipped' }, ['/withdrawn']],
    ['on another fastener', { position: 4 }, ['/position']],
    ['without a reason', { reason: undefined }, ['/reason']],
  ])('is refused %s', async (_, more, fields) => {
    const old = record(1, 1, 25)
    const body = { position: 1, stage: 1, withdrawn: true, supersedes: old.id, reason: 'Not done', ...more }
    await post(body, { expect: 422, fields })
  })

  test('takes a signature away, and puts the joint in doubt once the vehicle has left', async () => {
    joint = jointWith(t, w, { reuse: 'free', count: 1, stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
    const old = record(1, 1, 25)
    signOffJoint(w.technician, joint, { as: 'technician' })
    w.agree(1_000_000)
    // the joint of the other job stays as it is
    const other = t.deps.store.raw.prepare('select id from jobs order by id').pluck().all() as string[]
    for (const id of other.slice(0, -1))
      await scenario(t, { as: 'desk', post: `/api/jobs/${id}/voiding`, body: { reason: 'Not wanted' }, expect: 201 })
    handBack(w.desk, w.order, {})
    await post({ position: 1, stage: 1, withdrawn: true, supersedes: old.id, reason: 'Never done' })
    expect(loadJoint(w.desk, joint).signed).toBe(false)
    expect(openDoubts(w.desk).map(doubt => [doubt.joint_id, doubt.cause])).toEqual([[joint, 'correction']])
  })
})

describe('on the page', () => {
  const plain = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\u00a0|\s+/g, ' ')
  let tobin: string
  let at: string
  beforeEach(() => {
    tobin = t.cookie('technician', 'Tobin Rask')
    at = `/bench/joints/${joint}`
  })

  test('moved: by the number in the drawing, with who did it on paper and who moved it in the notes', async () => {
    const old = record(1, 1, 25)
    const put = `${at}/records/${old.id}`
    const { reply } = await fillIn(t, tobin, `${put}/other-fastener`, { position: '4', reason: 'Wrong tap' }, put)
    expect(reply.statusCode, reply.body).toBe(303)
    const html = plain(await page(t, at, tobin))
    expect(html).toContain('Put right: it was on fastener 2, not on 1.')
    expect(html).toContain('2, stage 1 25 N·m: conforms')
    const paper = plain(await page(t, `/joints/${joint}/record`, tobin))
    expect(paper).toMatch(/2 4 first 25 technician token 3 Mar 2031, 07:00/)
    expect(paper).toContain(
      'Fastener 1, stage 1: put right from 25 N·m: conforms: it was on fastener 2, by Tobin Rask, 3 Mar 2031, 08:00: Wrong tap.',
    )
  })

  test('not done: the fastener is next again; without a reason the other forms keep what they say', async () => {
    const old = record(1, 1, 25)
    const put = `${at}/records/${old.id}`
    const less = await fillIn(t, tobin, `${put}/not-done`, {}, put)
    expect(less.reply.statusCode).toBe(422)
    expect(less.reply.body).toContain('value="25"')
    await fillIn(t, tobin, `${put}/not-done`, { reason: 'Tapped by mistake' }, put)
    const html = plain(await page(t, at, tobin))
    expect(html).toContain('Fastener 1, stage 1 of 2')
    expect(html).toContain('not done')
    expect(plain(await page(t, `/joints/${joint}/record`, tobin))).toContain(
      'put right from 25 N·m: conforms to not done, by Tobin Rask',
    )
  })

  test('another reading takes its own unit, and no other', async () => {
    const old = record(1, 1, 35)
    const put = `${at}/records/${old.id}`
    const wrong = await fillIn(t, tobin, put, { value: '18 lbf·ft', reason: 'Misread' })
    expect(plain(wrong.reply.body)).toContain('This is in lbf·ft, and the field in N·m.')
    const { reply } = await fillIn(t, tobin, put, { value: '25 Nm', reason: 'Misread' })
    expect(reply.statusCode, reply.body).toBe(303)
    expect(state(1).next_stage).toBe(2)
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { recordTorque } from '../../src/fastening/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let tobin: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  tobin = t.cookie('technician', 'Tobin Rask')
})

const ORDER = [1, 4, 2, 5, 3, 6]
const at = (joint: string) => `/bench/joints/${joint}`
const plain = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\u00a0|\s+/g, ' ')
const show = async (joint: string, query = '') => plain(await page(t, at(joint) + query, tobin))
const record = (joint: string, position: number, stage: number, value: number) =>
  recordTorque(w.technician, joint, reading(w, position, stage, value, { made_at: undefined }))

/** All at 25 N·m; then number 1 at its angle, and number 2, at position 4, turned too far. */
function turnedTooFar(more: object): string {
  const joint = jointWith(t, w, { reuse: 'free', on_failure: 'restart', ...more })
  for (const position of ORDER) record(joint, position, 1, 25)
  record(joint, 1, 2, 90)
  record(joint, 4, 2, 99)
  return joint
}

describe('a fastener that is done again', () => {
  test('is never out of its turn, and is gone on with until it is back where it failed', async () => {
    const joint = turnedTooFar({})
    expect(await show(joint)).toContain('Fastener 2 went outside its limits at stage 2. Loosen it, all stages again.')
    const html = await show(joint, '?position=4')
    expect(html).toContain('Fastener 2, stage 1 of 2')
    expect(html).not.toContain('It is not this one’s turn')
    const first = await fillIn(t, tobin, at(joint), { value: '25' }, `${at(joint)}?position=4`)
    expect(first.reply.statusCode, first.reply.body).toBe(303)
    expect(first.reply.headers.location).toContain('?position=4&')
    expect(await show(joint, '?position=4')).toContain('This one is being done again: stage 1 is done. Go on here.')
    const second = await fillIn(t, tobin, at(joint), { value: '90' }, `${at(joint)}?position=4`)
    expect(second.reply.headers.location).not.toContain('position')
  })

  test('broken off half way the page says so above the next one, and asks to finish it', async () => {
    const joint = turnedTooFar({})
    record(joint, 4, 1, 25)
    const html = await show(joint)
    expect(html).toMatch(
      /Fastener 2 waits half way: stage 1 is done again, stage 2 not\. Finish it first\..*Finish no\. 2.*Fastener 3, stage 2 of 2/,
    )
    expect(html).not.toContain('Loosen it')
  })

  test('a new one that is in: the page goes on with it, and speaks of nothing that is to be taken out', async () => {
    const joint = turnedTooFar({ reuse: 'never', on_failure: 'replace' })
    const events = `${at(joint)}/events`
    const { reply } = await fillIn(t, tobin, events, {}, `${at(joint)}?position=4`)
    expect(reply.headers.location).toBe(`${at(joint)}?position=4#now`)
    const own = await show(joint, '?position=4')
    expect(own).toContain('Fastener 2: new fastener fitted.')
    expect(own).toContain('This is the new one: all its stages, from stage 1.')
    const html = await show(joint)
    expect(html).toContain('The new fastener 2 is in and not tightened. Finish it first.')
    expect(html).not.toMatch(/Take it out|Loosen it/)
  })

  test('with the whole joint: one sentence, and each in the order of the joint', async () => {
    const joint = turnedTooFar({ on_failure: 'redo_joint' })
    const html = await show(joint)
    expect(html.match(/The whole joint is done again, each one loosened first/g)).toHaveLength(1)
    expect(await show(joint, '?position=4')).toContain('It is not this one’s turn')
  })
})

test('a reading that does not count is said with its own fastener and stage', async () => {
  const joint = jointWith(t, w, { reuse: 'free', on_failure: 'restart' })
  record(joint, 1, 1, 25)
  await fillIn(t, tobin, at(joint), { value: '36' })
  expect(await page(t, at(joint), tobin)).toMatch(
    /class="at-hand"[\s\S]*class="notice"[^>]*>Fastener 2, stage 1: 36 N·m, recorded as outside its limits\.[\s\S]*class="say-next"/,
  )
  await fillIn(t, tobin, at(joint), { value: '29.9' })
  expect(await show(joint)).toContain('Fastener 3, stage 1: 29.9 N·m, recorded as unsure.')
})

describe('what is typed into a reading', () => {
  test.each([
    ['25 Nm', 'N.m', 25],
    ['25.5 N·m', 'N.m', 25.5],
    ['18,5 lbf·ft', 'lbf.ft', 18.5],
    ['18.4 ft-lb', 'lbf.ft', 18.4],
  ])('%s in its own unit is taken', async (value, unit, kept) => {
    const joint = jointWith(t, w)
    const { reply } = await fillIn(t, tobin, at(joint), { value, unit })
    expect(reply.statusCode, reply.body).toBe(303)
    expect(t.deps.store.raw.prepare('select value, unit from torque_records').get()).toEqual({ value: kept, unit })
  })

  test.each([
    [
      '25 lbf·ft',
      'N.m',
      'This is in lbf·ft, and the field in N·m. Choose lbf·ft beside it, or type the reading in N·m.',
    ],
    ['25 Nm', 'lbf.ft', 'This is in N·m, and the field in lbf·ft.'],
    ['25 stone', 'N.m', 'Type the number alone, such as 25.4: “stone” is no unit that is taken here.'],
    ['90°', 'N.m', 'A torque is read here: type it in N·m as a number'],
    ['about 25', 'N.m', 'This must be a number, such as 25.4.'],
    ['', 'N.m', 'Give the reading, or say what happened instead.'],
  ])('%s for %s is refused with what to do, and stays typed', async (value, unit, said) => {
    const joint = jointWith(t, w)
    const { reply } = await fillIn(t, tobin, at(joint), { value, unit })
    expect(reply.statusCode).toBe(422)
    expect(plain(reply.body)).toContain(said)
    expect(reply.body).toContain(`value="${value}"`)
    expect(t.deps.store.raw.prepare('select count(*) from torque_records').pluck().get()).toBe(0)
  })

  test('an angle takes its degrees, and no torque', async () => {
    const joint = turnedTooFar({})
    await fillIn(t, tobin, at(joint), { value: '90°' })
    expect(await show(joint)).toContain('Fastener 4, stage 2 of 2')
    const { reply } = await fillIn(t, tobin, at(joint), { value: '25 Nm' })
    expect(plain(reply.body)).toContain('An angle is read here: type the degrees as a number, such as 90.5.')
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings, settingsOf } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { createPart } from '../../src/parts/index.ts'
import { recordCalibration, registerAdapter, registerGauge, registerWrench } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const getApp = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let tobin: string

beforeEach(async () => {
  t = await getApp()
  w = orderWorld(t)
  tobin = t.cookie('technician', 'Tobin Rask')
})

const at = (joint: string) => `/bench/joints/${joint}`
const plain = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\u00a0|\s+/g, ' ')
const show = async (joint: string, query = '', who = tobin) => plain(await page(t, at(joint) + query, who))
const send = (joint: string, what: string, typed: Record<string, string | string[]>, who = tobin) =>
  fillIn(t, who, `${at(joint)}/${what}`, typed, at(joint))
const count = (table: string) => t.deps.store.raw.prepare(`select count(*) from ${table}`).pluck().get() as number

/** All bolts of a joint at their first stage, and at the second. */
function finish(joint: string, stages = 2, fastener = 1): void {
  for (const stage of [1, 2].slice(0, stages))
    for (const position of [1, 4, 2, 5, 3, 6])
      recordTorque(w.technician, joint, {
        ...{ position, stage, fastener, value: stage === 1 ? 25 : 90, unit: stage === 1 ? 'N.m' : 'deg' },
        ...{ basis: 'measured', ...(stage === 1 && { wrench_id: w.wrench }) },
      })
}

describe('recording at the joint’s page', () => {
  test('says the range that counts with the wrench in hand, rounded inwards', async () => {
    const joint = jointWith(t, w)
    expect(await show(joint)).toContain('Counts from 20.5 to 29.5 N·m with this wrench.')
  })

  test('takes the unit of the shop or another, with a comma, and keeps what was typed', async () => {
    patchSettings(w.owner, { torque_unit: 'lbf.ft' }, settingsVersion(w.owner))
    const joint = jointWith(t, w)
    const html = await page(t, at(joint), tobin)
    expect(html).toContain('<option value="lbf.ft" selected>')
    const { reply } = await fillIn(t, tobin, at(joint), { value: '18,4' })
    expect(reply.headers.location).toMatch(/unit=lbf\.ft#now$/)
    expect(await show(joint)).toContain(
      '18.4 lbf·ft, 24.9 N·m (18.4 lbf·ft) at the joint: conforms'.replace(' (18.4 lbf·ft)', ''),
    )
    await fillIn(t, tobin, at(joint), { value: '2.6', unit: 'kgf.m' }, `${at(joint)}?unit=kgf.m`)
    expect(await show(joint)).toContain('2.6 kgf·m, 25.5 N·m at the joint: conforms')
  })

  test('says before tightening that no wrench can prove the tolerance', async () => {
    const joint = jointWith(t, w, { stages: [{ kind: 'torque', target: 25, lower: 24.8, upper: 25.2 }] })
    const html = await show(joint)
    expect(html).toContain('No wrench of this shop that may be used today can prove this tolerance.')
    expect(html).toContain('Nothing counts with this wrench: it is good to ±0.5 N·m')
  })

  test('an adapter changes what the wrench is set to, and the hand stays at the grip mark', async () => {
    const wrench = registerWrench(w.owner, {
      ...{ name: 'W-03', kind: 'clicks', min_nm: 5, max_nm: 60, scale_division_nm: 0.5, length_mm: 400 },
    }).id
    const points = [{ at_nm: 25, uncertainty_nm: 0.5 }]
    recordCalibration(w.owner, wrench, { made_on: '2031-01-20', certificate: 'K-120', found: 'good', points })
    const adapter = registerAdapter(w.owner, { name: 'Crowfoot 19', length_mm: 100 }).id
    const joint = jointWith(t, w)
    const asked = `?wrench_id=${wrench}&adapter_id=${adapter}&adapter_angle_deg=0`
    // 25 N·m × 400 / (400 + 100)
    expect(await show(joint, asked)).toContain('Set the wrench to 20 N·m; hand at the grip mark.')
    await fillIn(t, tobin, at(joint), {}, at(joint) + asked)
    expect(t.deps.store.raw.prepare('select value, value_si, basis, verdict from torque_records').get()).toEqual({
      ...{ value: 20, value_si: 25, basis: 'set', verdict: 'as_set' },
    })
  })

  test('the gauge is chosen like a wrench, and its uncertainty counts', async () => {
    const gauge = registerGauge(w.owner, { name: 'G-02', kind: 'angle_gauge', uncertainty_deg: 1.5 }).id
    const joint = jointWith(t, w)
    finish(joint, 1)
    expect(await show(joint)).toContain('Counts from 86.5 to 93.5° with this gauge.')
    await fillIn(t, tobin, at(joint), { value: '90' })
    expect(t.deps.store.raw.prepare('select gauge_id from torque_records where stage = 2').pluck().get()).toBe(gauge)
  })

  test('a whole stage as set, but for one that is marked with what happened', async () => {
    const wrench = registerWrench(w.owner, { name: 'W-03', kind: 'clicks', min_nm: 5, max_nm: 60 }).id
    const points = [{ at_nm: 25, uncertainty_nm: 0.5 }]
    recordCalibration(w.owner, wrench, { made_on: '2031-01-20', certificate: 'K-120', found: 'good', points })
    const joint = jointWith(t, w, { on_failure: 'restart', reuse: 'free' })
    const address = `${at(joint)}/stage-as-set`
    const asked = `${address}?wrench_id=${wrench}`
    // refused, each answer stays at its own fastener: the order is 1 4 2 5 3 6
    const went = { 'fasteners[2][went]': 'slipped', 'fasteners[5][went]': 'not_yet' }
    const wrong = await fillIn(t, tobin, address, { ...went, wrench_id: w.wrench }, asked)
    expect([wrong.reply.statusCode, count('torque_records')]).toEqual([422, 0])
    const chosen = wrong.reply.body.matchAll(/name="fasteners\[(\d)\]\[went\]"[\s\S]*?value="(\w*)" selected/g)
    expect([...chosen].map(([, position, answer]) => [position, answer])).toEqual([
      ...[
        ['1', ''],
        ['4', ''],
        ['2', 'slipped'],
        ['5', 'not_yet'],
        ['3', ''],
        ['6', ''],
      ],
    ])
    // whoever goes back, or to another fastener, has the chosen wrench still
    const hrefs = async (url: string) => (await page(t, url, tobin)).replaceAll('&#x3D;', '=').replaceAll('&amp;', '&')
    expect(await hrefs(asked)).toContain(`href="${at(joint)}?wrench_id=${wrench}#now">Back to the joint`)
    expect(await hrefs(`${at(joint)}?wrench_id=${wrench}`)).toContain(`?position=4&wrench_id=${wrench}#now`)
    // what happened is enough: the exception needs no second tap
    const { reply } = await fillIn(t, tobin, address, { 'fasteners[2][went]': 'slipped' }, asked)
    expect(reply.statusCode, reply.body).toBe(303)
    const kept = t.deps.store.raw.prepare(
      'select position, basis, verdict, event from torque_records order by position',
    )
    expect(kept.all()).toEqual([
      ...[1, 2, 3, 4, 5, 6].map(position =>
        position === 2
          ? { position, basis: null, verdict: null, event: 'slipped' }
          : { position, basis: 'set', verdict: 'as_set', event: null },
      ),
    ])
  })

  test('on a joint that safety hangs on it says why there is no whole stage', async () => {
    const wrench = registerWrench(w.owner, { name: 'W-03', kind: 'clicks', min_nm: 5, max_nm: 60 }).id
    const points = [{ at_nm: 25, uncertainty_nm: 0.1 }]
    recordCalibration(w.owner, wrench, { made_on: '2031-01-20', certificate: 'K-120', found: 'good', points })
    const joint = jointWith(t, w, { severity: 'safety' })
    patchSettings(w.owner, { stage_as_set_on_safety: false }, settingsVersion(w.owner))
    expect(settingsOf(w.owner).stage_as_set_on_safety).toBe(false)
    expect(await show(joint)).toContain('this workshop records each fastener by itself')
  })
})

describe('left half way', () => {
  test('whoever comes next sees who stopped where, when and why, and carries on or starts over', async () => {
    const joint = jointWith(t, w, { reuse: 'free' })
    w.tighten(joint, 1)
    const { reply } = await send(joint, 'leavings', { reason: 'Waits for a part' })
    expect(reply.statusCode, reply.body).toBe(303)
    const wen = t.cookie('technician', 'Wen Adeyo')
    const html = await show(joint, '', wen)
    expect(html).toContain('Tobin Rask stopped at fastener 2, stage 1, on 3 Mar 2031, 08:00: Waits for a part.')
    expect(html).not.toContain('What the wrench shows')
    await send(joint, 'resumptions', { how: 'start_over' }, wen)
    const after = await show(joint, '', wen)
    expect(after).toContain('Wen Adeyo started over')
    expect(after).toContain('Fastener 1, stage 1 of 2')
  })
})

describe('fasteners for one use', () => {
  test('new ones are issued right here, with their batch', async () => {
    const joint = jointWith(t, w)
    const part = createPart(w.desk, { number: 'BT-10', name: 'Bolt M10', single_use: true }).id
    expect(await show(joint)).toContain('For one use only. New ones: 6 needed, 0 issued with a batch.')
    const less = await send(joint, 'part-lines', { part_id: part, batch: '31-118', quantity: 'a few' })
    expect(less.reply.statusCode).toBe(422)
    expect(less.reply.body).toMatch(/value="31-118"[\s\S]*value="a few"/)
    const { reply } = await send(joint, 'part-lines', { part_id: part, batch: '31-118' })
    expect(reply.statusCode, reply.body).toBe(303)
    expect(await show(joint)).toContain('6 needed, 6 issued with a batch.')
  })

  test('old ones again are temporary, said large, and end only with a new one in every place', async () => {
    const joint = jointWith(t, w, { stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
    await send(joint, 'temporary-uses', { reason: 'To move it to the other bay' })
    finish(joint, 1)
    const html = await show(joint)
    expect(html).toContain('Temporary: not for the road.')
    expect(html).toContain('To move it to the other bay')
    expect(html).toContain('old, temporary: to be replaced by a new one')
    expect(html).toContain('New one fitted')
    expect(html).not.toContain('Sign as')
    const { reply } = await send(joint, 'events', {})
    expect(reply.statusCode, reply.body).toBe(303)
    expect(await show(joint)).toContain('Fastener 1, stage 1 of 1')
  })

  test('after inspection: one tap says that they are fit', async () => {
    const joint = jointWith(t, w, { reuse: 'after_inspection', stages: [{ kind: 'torque', target: 25 }] })
    finish(joint, 1)
    expect(await show(joint)).toContain('Cannot be signed yet')
    await send(joint, 'fastener-inspections', { fit: 'true' })
    const html = await show(joint)
    expect(html).toContain('Looked at: fit for use again.')
    expect(html).toContain('Sign off')
  })
})

describe('the second person', () => {
  const safety = {
    severity: 'safety',
    reuse: 'free',
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
  } as const

  test('ticks marks, count and stripe; less than all three is no look', async () => {
    const joint = jointWith(t, w, { ...safety, stages: [...safety.stages] })
    finish(joint, 1)
    signOffJoint(w.technician, joint, { as: 'technician' })
    const html = await show(joint)
    expect(html).toContain('Tightened by technician token. Nothing is turned')
    const less = await send(joint, 'sign-offs', { looked_at: ['marks', 'count'] })
    expect(less.reply.statusCode).toBe(422)
    expect(plain(less.reply.body)).toContain('look at marks, count and stripe, and tick each of them.')
    expect(less.reply.body.match(/name="looked_at"[^>]* checked/g)).toHaveLength(2)
    const { reply } = await send(joint, 'sign-offs', { looked_at: ['marks', 'count', 'stripe'] })
    expect(reply.statusCode, reply.body).toBe(303)
    expect(await show(joint)).toContain('second person: looked at marks, count and stripe, turned nothing')
  })

  test('alone in the workshop the page says from when', async () => {
    patchSettings(w.owner, { look_again_after_minutes: 30 }, settingsVersion(w.owner))
    const joint = jointWith(t, w, { ...safety, stages: [...safety.stages] })
    for (const _ of [1, 2, 3, 4, 5, 6]) await fillIn(t, tobin, at(joint), { value: '25' })
    await send(joint, 'sign-offs', {})
    expect(await show(joint)).toContain('Alone in the workshop, you may look at it again from 3 Mar 2031, 08:30.')
    t.clock.set(t.clock.now() + 31 * 60_000)
    await send(joint, 'sign-offs', { looked_at: ['marks', 'count', 'stripe'] })
    expect(await show(joint)).toMatch(/the same person, 3\d minutes after signing/)
  })
})

test('a joint in doubt says so, at the bench and on paper', async () => {
  const joint = jointWith(t, w, { reuse: 'free' })
  w.tighten(joint, 1)
  expect(await show(joint)).not.toContain('In doubt from')
  const signed = jointWith(t, w, { reuse: 'free', stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
  finish(signed, 1)
  signOffJoint(w.technician, signed, { as: 'technician' })
  const points = [{ at_nm: 25, uncertainty_nm: 0.5 }]
  recordCalibration(w.owner, w.wrench, { made_on: '2031-03-03', certificate: 'K-140', found: 'outside', points })
  expect(await show(joint)).toMatch(/In doubt .*W-11.*found outside/)
  expect(plain(await page(t, `/joints/${joint}/record`, tobin))).toMatch(/In doubt .*W-11.*found outside/)
  // where it bears signatures: right under them, not above the drawing
  expect(await page(t, at(signed), tobin)).toMatch(/class="signed">Signed<\/h2>\s*<p class="caution"><strong>In doubt/)
})

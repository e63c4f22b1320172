import { beforeEach, describe, expect, test } from 'vitest'
import { createToken, patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { recordTorque, settleDoubt } from '../../src/fastening/index.ts'
import { reportBatchFault } from '../../src/parts/index.ts'
import { type Context, contextFor } from '../../src/platform/context.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type DoubtWorld, doubtWorld } from '../support/doubt-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { issueNew, jointWith } from '../support/joints.ts'

const app = eachTestItsApp()
let t: TestApp
let w: DoubtWorld
let joint: string
let cause: string
let wen: Context

const asRead = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')

beforeEach(async () => {
  t = await app()
  w = doubtWorld(t)
  const { person } = createToken(t.system, { name: 'Wen Adeyo', role: 'technician' })
  wen = contextFor(t.deps, { id: person.id, name: person.name, role: 'technician' })
  joint = jointWith(t, w, { count: 1, stages: [{ kind: 'torque', target: 25 }], reuse: 'free', severity: 'safety' })
  w.tightenWith(joint, w.wrench)
  w.on(5)
  cause = w.check(5, 'outside')
})

const settle = (body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/doubts/${cause}.${joint}/settlement`, body, expect: 201, ...more })
const doubt = async () => (await scenario(t, { as: 'desk', get: `/api/doubts/${cause}.${joint}`, expect: 200 })).body

describe('a doubt about a joint that safety hangs on', () => {
  test('is not settled by a look: the torque was checked with a named wrench, or it was tightened anew', async () => {
    const how = 'Looked at: marks stand'
    const { body } = await settle({ how }, { expect: 422, fields: ['/checked_with'] })
    expect(body.errors[0].detail).toContain('Safety hangs on Test flange: to look is not enough.')
    await settle({ how, checked_with: 'nobody' }, { expect: 422, fields: ['/checked_with'] })
    const bad = await settle({ how, checked_with: w.wrench }, { expect: 422, fields: ['/checked_with'] })
    expect(bad.body.errors[0].detail).toContain('Wrench W-11 proves nothing today: ')
    expect((await doubt()).waits_for_second_person).toBeNull()
    const { body: word } = await settle({ how: 'Did not move', checked_with: w.W12, note: 'At 25' })
    expect(word).toMatchObject({ how: 'Did not move', checked_with: w.W12, note: 'At 25', as: 'technician' })
  })

  test('once tightened anew with a good wrench needs no other proof', async () => {
    w.tightenWith(joint, w.W12)
    await settle({ how: 'Tightened again with W-12' })
  })

  test('is settled by two people, each with a word of their own', async () => {
    await settle({ how: 'Did not move', checked_with: w.W12 })
    const by = w.technician.actor!.id
    const at = '2031-03-05T08:00:00.000Z'
    expect(await doubt()).toMatchObject({
      settled: null,
      waits_for_second_person: { how: 'Did not move', checked_with: w.W12, by, at },
    })
    await settle({ how: 'Looked again' }, { expect: 409, problem: 'same-person' })
    w.on(6)
    settleDoubt(wen, `${cause}.${joint}`, { how: 'Looked at: marks and stripe stand' })
    expect(await doubt()).toMatchObject({
      waits_for_second_person: null,
      settled: {
        ...{ how: 'Did not move', checked_with: w.W12, by, at: '2031-03-06T08:00:00.000Z' },
        second: { how: 'Looked at: marks and stripe stand', by: wen.actor!.id, at: '2031-03-06T08:00:00.000Z' },
      },
    })
    await settle({ how: 'Once more' }, { expect: 409, problem: 'doubt-settled' })
  })

  test('alone in the workshop, the same person looks again after the time of the settings', async () => {
    patchSettings(w.owner, { look_again_after_minutes: 60 }, settingsVersion(w.owner))
    await settle({ how: 'Did not move', checked_with: w.W12 })
    const early = await settle({ how: 'Looked again' }, { expect: 409, problem: 'look-again-too-soon' })
    expect(early.body.from).toBe('2031-03-05T09:00:00.000Z')
    t.clock.set(t.clock.now() + 3_600_000)
    expect((await settle({ how: 'Looked again' })).body.as).toBe('second_person')
    expect((await doubt()).settled).not.toBeNull()
  })

  test('is settled at once by one person after a good check of the wrench', async () => {
    w.on(8)
    w.check(8, 'good')
    const body = { cause: 'wrench', cause_id: cause, how: 'It was the test bench' }
    await scenario(t, { as: 'technician', post: '/api/doubts/settlements', body, expect: 201 })
    expect((await doubt()).settled.how).toBe('It was the test bench')
  })

  test('of a batch is not settled at once: each is checked with a named wrench, then a second person may say all at once', async () => {
    issueNew(w, joint, 1, { batch: 'L-7' })
    const plain = w.joint()
    issueNew(w, plain, 1, { batch: 'L-7' })
    const { id: cause_id } = reportBatchFault(w.desk, w.part, { batch: 'L-7', reason: 'Soft' })
    const body = { cause: 'batch', cause_id, how: 'The maker has taken it back' }
    const post = (more: object = {}) =>
      scenario(t, { as: 'technician', post: '/api/doubts/settlements', body, expect: 201, ...more })
    const open = async () => (await w.open()).filter(([, kind]) => kind === 'batch').map(([id]) => id)
    const address = `/in-doubt/causes/${cause_id}`
    const offered = async () => (await page(t, '/in-doubt', t.cookie('owner'))).includes(address)
    expect((await post()).body.settlements.map((row: { joint_id: string }) => row.joint_id)).toEqual([plain])
    expect(await open()).toEqual([joint])
    for (const as of ['technician', 'owner'] as const) {
      const { body: refused } = await post({ as, expect: 409, problem: 'no-good-check' })
      expect(refused.detail).toContain('Safety hangs on the joint that is left: no word settles it at once.')
    }
    expect(await offered()).toBe(false)
    const forced = await page(t, address, t.cookie('owner'))
    expect(asRead(forced)).toContain('Each is settled by itself, with the wrench that its torque was checked with.')
    expect(forced).not.toContain(`<form action="${address}"`)
    // no torque proves a fastener that may crack: at the bench others are fitted, and every stage is done anew
    const one = (expect: number) =>
      scenario(t, {
        ...{ as: 'technician', post: `/api/doubts/${cause_id}.${joint}/settlement`, expect },
        body: { how: 'Did not move', checked_with: w.W12 },
        ...(expect === 422 && { fields: ['/how'] }),
      })
    await one(422)
    issueNew(w, joint, 1, { batch: 'L-8' })
    await one(422)
    const anew = { position: 1, stage: 1, fastener: 2 }
    recordTorque(w.technician, joint, { ...anew, event: 'replaced' })
    recordTorque(w.technician, joint, { ...anew, value: 25, unit: 'N.m', basis: 'measured', wrench_id: w.W12 })
    await one(201)
    await post({ expect: 409, problem: 'same-person' })
    await post({ as: 'owner' })
    expect(await open()).toEqual([])
  })
})

describe('its pages', () => {
  const url = () => `/in-doubt/joints/${cause}.${joint}`

  test('ask for the wrench, offer only good ones, and say that two people settle it', async () => {
    const tobin = t.cookie('technician', 'Tobin Rask')
    const html = await page(t, url(), tobin)
    expect(asRead(html)).toContain('To look is not enough: check its torque, or tighten it anew')
    expect(html).toMatch(/<option value="[^"]+">Wrench W-12<\/option>/)
    expect(html).not.toContain('>Wrench W-11</option>')
    const untold = await fillIn(t, tobin, url(), { how: 'Did not move' })
    expect(untold.reply.statusCode).toBe(422)
    expect(untold.reply.body).toContain('value="Did not move"')
    await fillIn(t, tobin, url(), { how: 'Did not move', checked_with: w.W12 })
    expect(asRead(await page(t, '/in-doubt', tobin))).toContain('waits for a second person to settle it')
    const own = await page(t, url(), tobin)
    expect(own).toContain('You have looked at it already.')
    expect(own).not.toContain('>Settle</button>')
    expect(asRead(await page(t, `/bench/joints/${joint}`, tobin))).toContain(
      'Tobin Rask has said: Did not move. Torque checked with wrench W-12. A second person settles it.',
    )
    const second = t.cookie('owner', 'Marta Oake')
    expect(asRead(await page(t, url(), second))).toContain('It has been said of it: Did not move. Look at it yourself')
    const { reply } = await fillIn(t, second, url(), { how: 'Looked at' })
    expect(reply.statusCode).toBe(303)
    expect(asRead(await page(t, '/in-doubt', second))).toContain('Tobin Rask, Marta Oake')
    expect(asRead(await page(t, `/vehicles/${w.vehicle}`, second))).toContain(
      'settled by Tobin Rask: Did not move. Torque checked with wrench W-12; second person Marta Oake: Looked at.',
    )
  })

  test('ask for no wrench once it was tightened anew', async () => {
    w.tightenWith(joint, w.W12)
    const html = await page(t, url(), t.cookie('technician'))
    expect(asRead(html)).toContain('It was done anew since. A second person then settles it with you.')
    expect(html).not.toContain('name="checked_with"')
  })
})

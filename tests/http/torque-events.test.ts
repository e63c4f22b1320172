import { beforeEach, describe, expect, test } from 'vitest'
import type { ProcedureRevisionInput } from '../../src/catalogue/index.ts'
import { loadJoint, openDoubts, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { handBack } from '../../src/hand-back/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

/** A joint of two, tightened whole. */
function tightened(more: Partial<ProcedureRevisionInput> = {}): string {
  const joint = jointWith(t, w, { count: 2, reuse: 'free', on_failure: 'restart', ...more })
  for (const stage of [1, 2])
    for (const position of [1, 2]) recordTorque(w.technician, joint, reading(w, position, stage, stage === 1 ? 25 : 90))
  return joint
}
const event = (joint: string, body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/joints/${joint}/torque-records`, body, expect: 201, ...more })
const next = (joint: string) => loadJoint(w.desk, joint).state.next

describe('what happens to a fastener', () => {
  test.each([
    ['slipped', 'restart', { action: 'restart', position: 1, fastener: 1, stage: 1 }],
    ['angle_not_known', 'restart', { action: 'restart', position: 1, fastener: 1, stage: 1 }],
    ['slipped', 'replace', { action: 'replace', position: 1, fastener: 2, stage: 1 }],
    ['angle_not_known', 'replace', { action: 'replace', position: 1, fastener: 2, stage: 1 }],
    // broken is replaced whatever the rule
    ['broke', 'restart', { action: 'replace', position: 1, fastener: 2, stage: 1 }],
    ['replaced', 'restart', { action: 'tighten', position: 1, fastener: 2, stage: 1 }],
  ] as const)('%s, by the rule %s', async (said, on_failure, then) => {
    const joint = tightened({ on_failure })
    const { body } = await event(joint, { position: 1, stage: 2, event: said })
    expect(body).toMatchObject({ event: said, verdict: null, value_si: null, conformance_probability: null })
    expect(body.value).toBeUndefined()
    expect(next(joint)).toEqual(then)
    const sign = { as: 'technician', post: `/api/joints/${joint}/sign-offs`, body: { as: 'technician' } } as const
    await scenario(t, { ...sign, expect: 409, problem: 'joint-incomplete' })
  })

  test('redo_joint: the whole joint again', async () => {
    const joint = tightened({ on_failure: 'redo_joint' })
    await event(joint, { position: 2, stage: 2, event: 'slipped' })
    expect(loadJoint(w.desk, joint).state.fasteners.map(fastener => fastener.needs)).toEqual(['restart', 'restart'])
  })

  test('an angle that is not known is never finished by more degrees', async () => {
    const joint = tightened()
    await event(joint, { position: 1, stage: 2, event: 'angle_not_known' })
    const body = reading(w, 1, 2, 90)
    await event(joint, body, { expect: 409, problem: 'stage-before-its-turn' })
  })
})

describe('a correction', () => {
  test('of an event by a reading, and of a reading by an event, both stay', async () => {
    const joint = tightened()
    const slip = await event(joint, { position: 1, stage: 2, event: 'slipped' })
    const fix = reading(w, 1, 2, 91, { supersedes: slip.body.id, reason: 'It was the other one' })
    // turned once more by an angle would be too far: said again it is out of its turn, and stays open
    expect((await event(joint, fix)).body.supersedes).toBe(slip.body.id)
    expect(loadJoint(w.desk, joint).records).toHaveLength(6)
    expect(loadJoint(w.desk, joint).state.complete).toBe(false)
  })

  test('before hand-back un-signs, after hand-back puts the joint in doubt and leaves the old record as it was', async () => {
    const joint = tightened()
    signOffJoint(w.technician, joint, { as: 'technician' })
    w.agree(1_000_000)
    handBack(w.desk, w.order, {})
    const [first] = loadJoint(w.desk, joint).records
    await event(joint, reading(w, 1, 1, 24.7), { expect: 409, problem: 'work-order-handed-back' })
    const fix = reading(w, 1, 1, 24.7, { supersedes: first!.id, reason: 'Misread' })
    await event(joint, { ...fix, reason: undefined }, { expect: 422, fields: ['/reason'] })
    await event(joint, fix)
    expect(loadJoint(w.desk, joint).records[0]).toEqual(first)
    expect(loadJoint(w.desk, joint).signed).toBe(false)
    expect(openDoubts(w.desk).map(doubt => [doubt.joint_id, doubt.cause])).toEqual([[joint, 'correction']])
    const sign = { as: 'technician', post: `/api/joints/${joint}/sign-offs`, body: { as: 'technician' } } as const
    await scenario(t, { ...sign, expect: 409, problem: 'work-order-handed-back' })
  })
})

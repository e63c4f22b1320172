import fc from 'fast-check'
import { beforeEach, describe, expect, test } from 'vitest'
import type { ProcedureRevisionInput } from '../../src/catalogue/index.ts'
import { jointStates, recordTorque, signOffJoint, type TorqueRecord } from '../../src/fastening/index.ts'
import { Problem } from '../../src/platform/problems.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import * as joints from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const jointWith = (revision: Partial<ProcedureRevisionInput> = {}) => joints.jointWith(t, w, revision)
const reading = (position: number, stage: number, value: number, more: object = {}) =>
  joints.reading(w, position, stage, value, more)

const post = (joint: string, body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/joints/${joint}/torque-records`, body, expect: 201, ...more })

const sign = (joint: string, as: 'technician' | 'second_person' = 'technician', more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/joints/${joint}/sign-offs`, body: { as }, expect: 201, ...more })

function tightenAll(joint: string, count = 6): void {
  for (const stage of [1, 2])
    for (let position = 1; position <= count; position++)
      recordTorque(w.technician, joint, reading(position, stage, stage === 1 ? 25 : 90))
}

describe('POST /api/joints/{id}/torque-records', () => {
  test('keeps value and unit as entered beside the SI value, and says the verdict with its chance', async () => {
    const joint = jointWith()
    const { body, headers } = await post(joint, reading(1, 1, 18.5, { unit: 'lbf.ft' }))
    expect(body).toMatchObject({ value: 18.5, unit: 'lbf.ft', verdict: 'conforms', position: 1, stage: 1, fastener: 1 })
    // NIST SP 811: 1 lbf·ft = 1.355 817 948 N·m
    expect(body.value_si).toBeCloseTo(25.082632, 5)
    expect(body.conformance_probability).toBeGreaterThan(0.99)
    const again = await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })
    expect(again.body).toEqual(body)
  })

  test.each([
    ['N·m', 25, 'N.m'],
    ['Nm', 25, 'N.m'],
    ['lbf·ft', 18.5, 'lbf.ft'],
    ['lbf·in', 221, 'lbf.in'],
    ['kgf·m', 2.55, 'kgf.m'],
  ])('takes the unit as %s, as books write it', async (unit, value, kept) => {
    const { body } = await post(jointWith(), reading(1, 1, value, { unit }))
    expect(body).toMatchObject({ value, unit: kept, verdict: 'conforms' })
  })

  test('names the unit that it does not know', async () => {
    await post(jointWith(), reading(1, 1, 25, { unit: 'toString' }), { expect: 422, fields: ['/unit'] })
  })

  test('says unsure inside the guard band and outside beyond it, and keeps both', async () => {
    const joint = jointWith()
    // U is 0.5 N·m by the wrench's certificate, so from 29.5 to 30.5 nobody can tell
    expect((await post(joint, reading(1, 1, 29.8))).body.verdict).toBe('unsure')
    expect((await post(joint, reading(2, 1, 30.6))).body.verdict).toBe('outside')
    const list = await scenario(t, { as: 'desk', get: `/api/joints/${joint}/torque-records`, expect: 200 })
    expect(list.body.items).toHaveLength(2)
  })

  test.each([
    ['no wrench', {}, 'unsure'],
    ['a wrench out of its range', { value: 60, unit: 'N.m' }, 'outside'],
  ])('a reading with %s conforms nowhere', async (_, more, verdict) => {
    const joint = jointWith()
    const { wrench_id: _wrench, ...bare } = reading(1, 1, 25)
    expect((await post(joint, { ...bare, ...more })).body.verdict).toBe(verdict)
  })

  test('a setting says as set, never measured', async () => {
    const joint = jointWith()
    const { body } = await post(joint, reading(1, 1, 25, { basis: 'set' }))
    expect(body).toMatchObject({ basis: 'set', verdict: 'as_set', conformance_probability: null })
    expect((await post(joint, reading(2, 1, 24, { basis: 'set' }))).body.verdict).toBe('outside')
  })

  test.each([
    ['zero', { value: 0 }, ['/value']],
    ['negative', { value: -5 }, ['/value']],
    ['absurd', { value: 1e9 }, ['/value']],
    ['a word', { value: '25' }, ['/value']],
    ['an angle unit at a torque stage', { unit: 'deg' }, ['/unit']],
    ['a position outside the joint', { position: 7 }, ['/position']],
    ['a stage outside the procedure', { stage: 3 }, ['/stage']],
    ['a fastener that nobody fitted', { fastener: 3 }, ['/fastener']],
    ['a wrench in no register', { wrench_id: 'nobody' }, ['/wrench_id']],
    [
      'neither reading nor event',
      { value: undefined, unit: undefined, basis: undefined },
      ['/basis', '/unit', '/value'],
    ],
    ['both reading and event', { event: 'slipped' }, ['/event']],
    ['a correction without a reason', { supersedes: 'nobody' }, ['/reason', '/supersedes']],
  ])('refuses %s by its field and records nothing', async (_, more, fields) => {
    const joint = jointWith()
    await post(joint, reading(1, 1, 25, more), { expect: 422, fields })
  })

  test('refuses an angle before its torque, in words', async () => {
    const joint = jointWith()
    const { body } = await post(joint, reading(1, 2, 90), { expect: 409, problem: 'stage-before-its-turn' })
    expect(body.detail).toContain('is at stage 1')
  })

  test('a torque in degrees or an angle in N·m is refused with the unit that is wanted', async () => {
    const joint = jointWith()
    recordTorque(w.technician, joint, reading(1, 1, 25))
    const { body } = await post(joint, reading(1, 2, 90, { unit: 'N.m' }), { expect: 422, fields: ['/unit'] })
    expect(body.detail).toContain('degrees')
  })

  test('desk 403, unknown joint 404', async () => {
    const joint = jointWith()
    await post(joint, reading(1, 1, 25), { as: 'desk', expect: 403 })
    await post('nobody', reading(1, 1, 25), { expect: 404 })
  })

  test('a correction names what it supersedes, stands in its place, and can be superseded once', async () => {
    const joint = jointWith()
    const wrong = await post(joint, reading(1, 1, 35))
    expect(wrong.body.verdict).toBe('outside')
    const fix = reading(1, 1, 25, { supersedes: wrong.body.id, reason: 'Read the other wrench' })
    expect((await post(joint, fix)).body.supersedes).toBe(wrong.body.id)
    await post(joint, fix, { expect: 422, fields: ['/supersedes'] })
    expect((await post(joint, reading(1, 2, 90))).body.verdict).toBe('conforms')
  })
})

describe('a joint, until it is signed', () => {
  test('one reading outside its limits is redone with a new fastener before anybody can sign', async () => {
    const joint = jointWith()
    joints.issueNew(w, joint, 6)
    tightenAll(joint, 5)
    recordTorque(w.technician, joint, reading(6, 1, 25))
    expect((await post(joint, reading(6, 2, 112))).body.verdict).toBe('outside')
    const refused = await sign(joint, 'technician', { expect: 409, problem: 'joint-incomplete' })
    expect(refused.body.blockers).toEqual([
      { reason: 'replace', sentence: expect.stringContaining('Fastener 6'), href: `/bench/joints/${joint}` },
    ])
    for (const stage of [1, 2])
      recordTorque(w.technician, joint, reading(6, stage, stage === 1 ? 25 : 90, { fastener: 2 }))
    joints.issueNew(w, joint, 1)
    await sign(joint)
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({ complete: true, signed: true })
  })

  test('a record after the signature takes the signature away', async () => {
    const joint = jointWith({ on_failure: 'restart', reuse: 'free' })
    tightenAll(joint)
    await sign(joint)
    await sign(joint, 'technician', { expect: 409, problem: 'already-signed' })
    recordTorque(w.technician, joint, { position: 1, stage: 2, fastener: 1, event: 'slipped' })
    expect(jointStates(w.desk, [joint]).get(joint)!.signed).toBe(false)
  })

  test('where safety hangs on it a second person signs, with another login, and never whoever tightened', async () => {
    const joint = jointWith({ severity: 'safety', reuse: 'free' })
    tightenAll(joint)
    await sign(joint)
    expect(jointStates(w.desk, [joint]).get(joint)).toMatchObject({ signed: false, needs_second_person: true })
    await sign(joint, 'second_person', { expect: 409, problem: 'same-person' })
    await sign(joint, 'second_person', { as: 'owner' })
    expect(jointStates(w.desk, [joint]).get(joint)!.signed).toBe(true)
  })

  test('no walk of taps by any mix of people signs a joint with a stage missing or a reading that does not conform', () => {
    const people = [t.as('technician'), t.as('owner')]
    const tap = fc.record({
      person: fc.nat(1),
      position: fc.integer({ min: 1, max: 2 }),
      stage: fc.integer({ min: 1, max: 2 }),
      fastener: fc.integer({ min: 1, max: 3 }),
      what: fc.constantFrom(
        'good',
        'good',
        'good',
        'outside',
        'unsure',
        'slipped',
        'broke',
        'replaced',
        'sign',
        'second',
      ),
    })
    fc.assert(
      fc.property(fc.array(tap, { maxLength: 40 }), taps => {
        const joint = jointWith({ count: 2, severity: 'safety', reuse: 'free' })
        const kept: TorqueRecord[] = []
        for (const { person, position, stage, fastener, what } of taps) {
          const ctx = people[person]!
          try {
            if (what === 'sign') signOffJoint(ctx, joint, { as: 'technician' })
            else if (what === 'second') signOffJoint(ctx, joint, { as: 'second_person' })
            else if (what === 'slipped' || what === 'broke' || what === 'replaced')
              kept.push(recordTorque(ctx, joint, { position, stage, fastener, event: what }))
            else {
              const values = { good: [25, 90], outside: [40, 120], unsure: [29.9, 94.5] }[what]
              kept.push(recordTorque(ctx, joint, reading(position, stage, values[stage - 1]!, { fastener })))
            }
          } catch (error) {
            if (!(error instanceof Problem)) throw error
          }
        }
        if (!jointStates(t.system, [joint]).get(joint)!.signed) return
        for (const position of [1, 2]) {
          // whatever happened before, the newest pass on the newest fastener has both stages, in order, conforming
          const own = kept.filter(record => record.position === position)
          const newest = Math.max(...own.map(record => record.fastener))
          const last = own.filter(record => record.fastener === newest && record.event !== 'replaced').slice(-2)
          expect(last.map(record => record.stage).sort()).toEqual([1, 2])
          expect(last.every(record => record.verdict === 'conforms')).toBe(true)
        }
      }),
      { numRuns: 40, seed: 20311104 },
    )
  })
})

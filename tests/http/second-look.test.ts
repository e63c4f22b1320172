import { beforeEach, describe, expect, test } from 'vitest'
import { createToken, patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { jointStates, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { type Context, contextFor } from '../../src/platform/context.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
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
  joint = jointWith(t, w, { count: 2, severity: 'safety', reuse: 'free' })
})

const tighten = (ctx: Context, positions = [1, 2]) => {
  for (const stage of [1, 2])
    for (const position of positions) recordTorque(ctx, joint, reading(w, position, stage, stage === 1 ? 25 : 90))
}
const sign = (body: object, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/joints/${joint}/sign-offs`, body, expect: 201, ...more })
const second = (more: object = {}) => sign({ as: 'second_person' }, more)
const lookAgainAfter = (minutes: number | null) =>
  patchSettings(w.owner, { look_again_after_minutes: minutes }, settingsVersion(w.owner))
const later = (minutes: number) => t.clock.set(t.clock.now() + minutes * 60_000)
const isSigned = () => jointStates(w.desk, [joint]).get(joint)!.signed

describe('the second person', () => {
  test('says what was looked at: marks, count and stripe, all three or nothing', async () => {
    tighten(w.technician)
    await sign({ as: 'technician', looked_at: ['marks', 'count', 'stripe'] }, { expect: 422, fields: ['/looked_at'] })
    await sign({ as: 'technician' })
    const half = { as: 'second_person', looked_at: ['marks'] }
    const { body: refused } = await sign(half, { as: 'owner', expect: 422, fields: ['/looked_at'] })
    expect(refused.detail).toContain('Look at the count and stripe too')
    await sign({ ...half, looked_at: ['paint'] }, { as: 'owner', expect: 422, fields: ['/looked_at/0'] })
    const said = await sign({ ...half, looked_at: ['stripe', 'marks', 'count'] }, { as: 'owner' })
    expect(said.body.looked_at).toEqual(['stripe', 'marks', 'count'])
    expect(said.body.same_person_after_minutes).toBeUndefined()
    expect(isSigned()).toBe(true)
  })

  test('absent is not said, and stays so', async () => {
    tighten(w.technician)
    await sign({ as: 'technician' })
    expect((await second({ as: 'owner' })).body.looked_at).toBeUndefined()
    expect(isSigned()).toBe(true)
  })

  test('never tightened any of it, the owner neither', async () => {
    tighten(w.technician, [1])
    tighten(w.owner, [2])
    await sign({ as: 'technician' })
    await second({ as: 'owner', expect: 409, problem: 'same-person' })
    const other = createToken(t.system, { name: 'other technician', role: 'technician' }).person
    signOffJoint(contextFor(t.deps, { id: other.id, name: other.name, role: 'technician' }), joint, {
      as: 'second_person',
    })
    expect(isSigned()).toBe(true)
  })

  test('does not sign that it is done as well', async () => {
    tighten(w.technician)
    await second({ as: 'owner' })
    await sign({ as: 'technician' }, { as: 'owner', expect: 409, problem: 'same-person' })
    expect(isSigned()).toBe(false)
    await sign({ as: 'technician' })
    expect(isSigned()).toBe(true)
  })
})

describe('a one-person workshop', () => {
  test('is not the rule: without the setting the same person is refused for ever', async () => {
    tighten(w.technician)
    await sign({ as: 'technician' })
    later(10_000)
    await second({ expect: 409, problem: 'same-person' })
  })

  test('whoever tightened may look again after the delay, and the record says so', async () => {
    lookAgainAfter(30)
    tighten(w.technician)
    await second({ expect: 409, problem: 'same-person' })
    await sign({ as: 'technician' })
    later(29)
    const { body } = await second({ expect: 409, problem: 'look-again-too-soon' })
    expect(body.detail).toContain('may look again on 3 March 2031 at 08:30, 30 minutes after')
    expect(body.from).toBe('2031-03-03T08:30:00.000Z')
    expect(isSigned()).toBe(false)
    later(14)
    const signed = await sign({ as: 'second_person', looked_at: ['marks', 'count', 'stripe'] })
    expect(signed.body.same_person_after_minutes).toBe(43)
    expect(isSigned()).toBe(true)
    // what was allowed then stands when the workshop changes its mind
    lookAgainAfter(null)
    expect(isSigned()).toBe(true)
  })

  test('a record in between begins the delay anew', async () => {
    lookAgainAfter(30)
    tighten(w.technician)
    await sign({ as: 'technician' })
    later(25)
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    tighten(w.technician)
    await sign({ as: 'technician' })
    later(10)
    await second({ expect: 409, problem: 'look-again-too-soon' })
  })

  test('another person looks at once, and it is nobody’s second look', async () => {
    lookAgainAfter(30)
    tighten(w.technician)
    await sign({ as: 'technician' })
    expect((await second({ as: 'owner' })).body.same_person_after_minutes).toBeUndefined()
  })
})

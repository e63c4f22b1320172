import { beforeEach, describe, expect, test } from 'vitest'
import type { ProcedureRevisionInput } from '../../src/catalogue/index.ts'
import { jointStates, recordTorque } from '../../src/fastening/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { issueNew, jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

function tightened(revision: Partial<ProcedureRevisionInput> = {}): string {
  joint = jointWith(t, w, { count: 2, ...revision })
  tighten(1)
  return joint
}
function tighten(fastener: number): void {
  for (const stage of [1, 2])
    for (const position of [1, 2])
      recordTorque(w.technician, joint, reading(w, position, stage, stage === 1 ? 25 : 90, { fastener }))
}
const sign = (more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/sign-offs`,
    body: { as: 'technician' },
    expect: 201,
    ...more,
  })
const blocked = async (more: object = {}) =>
  (await sign({ expect: 409, problem: 'joint-incomplete', ...more })).body.blockers
const inspect = (fit: boolean, more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/fastener-inspections`,
    body: { fit },
    expect: 201,
    ...more,
  })
const useOld = (more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/joints/${joint}/temporary-uses`,
    body: { reason: 'To the other lift' },
    expect: 201,
    ...more,
  })
const standing = () => jointStates(w.desk, [joint]).get(joint)!

describe('single-use fasteners', () => {
  test('nobody signs before new ones are noted, with the batch; the refusal has numbers and the place', async () => {
    tightened()
    expect(await blocked({ as: 'owner' })).toEqual([
      {
        reason: 'new_fasteners_missing',
        sentence: 'Its fasteners are for single use: 2 new needed, 0 noted with a batch. Note 2 more on this joint.',
        href: `/bench/joints/${joint}#fasteners`,
      },
    ])
    issueNew(w, joint, 2, { batch: undefined })
    issueNew(w, joint, 2, { condition: 'used' })
    issueNew(w, joint, 1)
    expect((await blocked())[0].sentence).toContain('1 noted with a batch (2 more without a batch')
    issueNew(w, joint, 1)
    await sign()
    expect(standing().signed).toBe(true)
  })

  test('old ones again are temporary: no signature of anybody, until every position has a new one', async () => {
    tightened()
    issueNew(w, joint, 2)
    await sign()
    const { body, headers } = await useOld()
    expect(body).toMatchObject({ reason: 'To the other lift', at: '2031-03-03T08:00:00.000Z' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect(standing()).toMatchObject({ signed: false, temporary: true })
    expect(standing().sentence).toContain('temporary fasteners, not for the road')
    expect((await blocked({ as: 'owner' })).map((blocker: { reason: string }) => blocker.reason)).toEqual([
      'temporary_fasteners',
    ])
    for (const position of [1, 2])
      recordTorque(w.technician, joint, { position, stage: 1, fastener: 1, event: 'replaced' })
    expect(standing().temporary).toBe(true)
    tighten(2)
    expect(standing()).toMatchObject({ temporary: false, signed: false })
    await sign()
    expect(standing()).toMatchObject({ temporary: false, signed: true })
  })

  test('temporary: desk 403, unknown 404, a reason is needed, and ones that may be used again are never temporary', async () => {
    tightened()
    await useOld({ as: 'desk', expect: 403 })
    await useOld({ post: '/api/joints/nobody/temporary-uses', expect: 404 })
    await useOld({ body: {}, expect: 422, fields: ['/reason'] })
    tightened({ reuse: 'free' })
    await useOld({ expect: 409, problem: 'fasteners-reusable' })
    await sign()
  })
})

describe('fasteners that may be used again after inspection', () => {
  test('were looked at and are fit, or are new', async () => {
    tightened({ reuse: 'after_inspection' })
    expect((await blocked())[0]).toMatchObject({ reason: 'fasteners_not_inspected' })
    const { body, headers } = await inspect(false, { body: { fit: false, note: 'Stretched' } })
    expect(body).toMatchObject({ fit: false, note: 'Stretched' })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    expect((await blocked())[0].sentence).toContain('were found unfit for use again')
    issueNew(w, joint, 2)
    await sign()
    tightened({ reuse: 'after_inspection' })
    await inspect(true)
    await sign()
    // somebody looks again and finds them bad: the signature does not stand
    await inspect(false)
    expect(standing().signed).toBe(false)
  })

  test('inspection: desk 403, unknown 404, fit or not must be said', async () => {
    tightened({ reuse: 'after_inspection' })
    await inspect(true, { as: 'desk', expect: 403 })
    await inspect(true, { post: '/api/joints/nobody/fastener-inspections', expect: 404 })
    await inspect(true, { body: { note: 'Well' }, expect: 422, fields: ['/fit'] })
  })
})

describe('a record after the signature', () => {
  test('of any kind takes it away, also a correction, which names what it supersedes and why', async () => {
    tightened({ reuse: 'free', on_failure: 'restart' })
    await sign()
    const list = await scenario(t, { as: 'desk', get: `/api/joints/${joint}/torque-records`, expect: 200 })
    const [first] = list.body.items
    const fix = reading(w, 1, 1, 24.9, { supersedes: first.id, reason: 'Misread' })
    await scenario(t, { as: 'owner', post: `/api/joints/${joint}/torque-records`, body: fix, expect: 201 })
    expect(standing()).toMatchObject({ complete: true, signed: false })
    const after = await scenario(t, { as: 'desk', get: `/api/joints/${joint}/torque-records`, expect: 200 })
    expect(after.body.items[0]).toEqual(first)
    await sign()
    expect(standing().signed).toBe(true)
    await sign({ expect: 409, problem: 'already-signed' })
  })
})

import { describe, expect, test } from 'vitest'
import { ensureOperation } from '../../src/catalogue/index.ts'
import { recordEvent } from '../../src/platform/database/events.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

const app = eachTestItsApp()

const post = (t: TestApp, path: string, body: object): Promise<Reply> =>
  scenario(t, { as: 'owner', post: `/api/${path}`, body, expect: 201, events: 1 })
const idOf = async (reply: Promise<Reply>): Promise<string> => (await reply).body.id

const BEARING = { name: 'Rear wheel bearing', severity: 'safety', causes: [], check_minutes: 15, access_step_ids: [] }
const step = (name: string, more: object = {}) => ({ name, hours: 1.5, needs: [], exposes: [], disturbs: [], ...more })
const REVISION = {
  layout: 'circle',
  count: 6,
  stages: [
    { kind: 'torque', target: 30, lower: 28.5, upper: 31.5 },
    { kind: 'angle', target: 90 },
  ],
  reuse: 'never',
  severity: 'safety',
  on_failure: 'replace',
  source: 'Corvane manual, edition 4, page 212',
}
const OPERATION = {
  name: 'Final drive belt: renew',
  hours: 2,
  access_step_ids: [],
  joints: [],
  looks: [],
  final_checks: [],
}

describe('/api/operations', () => {
  async function parts(t: TestApp) {
    await post(t, 'components', BEARING)
    const wheel = await idOf(post(t, 'access-steps', step('Wheel off')))
    const hub = await idOf(post(t, 'access-steps', step('Hub off', { needs: [wheel] })))
    const gearbox = await idOf(post(t, 'access-steps', step('Gearbox out')))
    const procedure = await idOf(post(t, 'procedures', { name: 'Hub bolts' }))
    await post(t, `procedures/${procedure}/revisions`, REVISION)
    return { wheel, hub, gearbox, procedure }
  }

  test('an operation has steps, joints, looks, final checks and a warranty', async () => {
    const t = await app()
    const { wheel, hub, procedure } = await parts(t)
    const body = {
      ...OPERATION,
      access_step_ids: [hub],
      joints: [
        { name: 'Hub bolts', procedure_id: procedure, behind_step_id: wheel },
        { name: 'Belt pulley', procedure_id: procedure },
      ],
      looks: [{ component: 'REAR WHEEL BEARING', severity: 'safety', behind_step_id: hub, minutes: 3 }],
      final_checks: ['Runs without noise'],
      warranty_days: 180,
      warranty_km: 20_000,
    }
    const made = await post(t, 'operations', body)
    expect(made.body).toMatchObject({ ...body, looks: [{ ...body.looks[0], component: BEARING.name }], version: 1 })
    const read = await scenario(t, { as: 'desk', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'desk', get: '/api/operations', expect: 200 })
    expect(list.body.items).toEqual([made.body])
  })

  test('each joint and look that cannot be is pointed at', async () => {
    const t = await app()
    const { hub, gearbox, procedure } = await parts(t)
    const bare = await idOf(post(t, 'procedures', { name: 'Nothing yet' }))
    const body = {
      ...OPERATION,
      access_step_ids: [hub],
      joints: [
        { name: 'a', procedure_id: 'none' },
        { name: 'b', procedure_id: bare },
        { name: 'c', procedure_id: procedure, behind_step_id: gearbox },
      ],
      looks: [{ component: 'none', severity: 'safety', behind_step_id: 'none', minutes: 3 }],
    }
    const fields = [
      '/joints/0/procedure_id',
      '/joints/1/procedure_id',
      '/joints/2/behind_step_id',
      '/looks/0/component',
      '/looks/0/behind_step_id',
    ]
    await scenario(t, { as: 'owner', post: '/api/operations', body, expect: 422, fields })
    await scenario(t, {
      as: 'owner',
      post: '/api/operations',
      body: { ...OPERATION, access_step_ids: ['x'] },
      expect: 422,
      fields: ['/access_step_ids/0'],
    })
    await scenario(t, {
      as: 'owner',
      post: '/api/operations',
      body: { name: 'x', hours: '2' },
      expect: 422,
      fields: ['/hours', '/access_step_ids', '/joints', '/looks', '/final_checks'],
    })
  })

  test('a change needs its version; taking a step out from under a joint is refused', async () => {
    const t = await app()
    const { hub, procedure } = await parts(t)
    const joints = [{ name: 'Hub bolts', procedure_id: procedure, behind_step_id: hub }]
    const id = await idOf(post(t, 'operations', { ...OPERATION, access_step_ids: [hub], joints, warranty_days: 10 }))
    const patch = `/api/operations/${id}`
    await scenario(t, { as: 'owner', patch, body: {}, expect: 428 })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { access_step_ids: [] },
      ifMatch: '"1"',
      expect: 422,
      fields: ['/joints/0/behind_step_id'],
    })
    const changed = await scenario(t, {
      as: 'owner',
      patch,
      body: { access_step_ids: [], joints: [], warranty_days: null },
      ifMatch: '"1"',
      expect: 200,
    })
    expect(changed.body).toMatchObject({ joints: [], version: 2 })
    expect(changed.body).not.toHaveProperty('warranty_days')
    await scenario(t, { as: 'owner', patch, body: {}, ifMatch: '"1"', expect: 412 })
    await post(t, 'operations', { ...OPERATION, name: 'Other' })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { name: 'OTHER' },
      ifMatch: '"2"',
      expect: 409,
      problem: 'name-taken',
    })
    await scenario(t, { as: 'owner', patch: '/api/operations/none', body: {}, ifMatch: '"1"', expect: 404 })
  })

  test('one that came with a name only has no hours until somebody says them', async () => {
    const t = await app()
    const id = write(t.system, tx => {
      const made = ensureOperation(t.system, tx, 'Service')
      recordEvent(t.system, tx, { action: 'test.made', table: 'operations', id: made })
      return made
    })
    const read = await scenario(t, { as: 'desk', get: `/api/operations/${id}`, expect: 200 })
    expect(read.body).not.toHaveProperty('hours')
    const patch = `/api/operations/${id}`
    const changed = await scenario(t, { as: 'owner', patch, body: { hours: 1 }, ifMatch: '"1"', expect: 200 })
    expect(changed.body.hours).toBe(1)
  })
})

import { describe, expect, test } from 'vitest'
import { ensureComponent } from '../../src/catalogue/index.ts'
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

describe.each(['symptoms', 'failure-modes'])('/api/%s', path => {
  test('a name is added by the desk, read, listed by name, and taken once whatever its case', async () => {
    const t = await app()
    const made = await scenario(t, { as: 'desk', post: `/api/${path}`, body: { name: 'Hums' }, expect: 201, events: 1 })
    await post(t, path, { name: 'Brake judder' })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'technician', get: `/api/${path}`, expect: 200 })
    expect(list.body.items.map((item: { name: string }) => item.name)).toEqual(['Brake judder', 'Hums'])
    await scenario(t, {
      as: 'desk',
      post: `/api/${path}`,
      body: { name: 'HUMS' },
      expect: 409,
      problem: 'name-taken',
      fields: ['/name'],
    })
    await scenario(t, { as: 'desk', post: `/api/${path}`, body: { name: '' }, expect: 422, fields: ['/name'] })
    await scenario(t, { as: 'desk', get: `/api/${path}/none`, expect: 404 })
  })
})

describe('/api/components', () => {
  test('a component names its symptoms and what it is not to be checked before', async () => {
    const t = await app()
    await post(t, 'symptoms', { name: 'Hums' })
    await post(t, 'components', { ...BEARING, name: 'Belt tension' })
    const stepId = await idOf(post(t, 'access-steps', step('Wheel off')))
    const body = {
      ...BEARING,
      causes: ['hums'],
      access_step_ids: [stepId],
      not_before: ['belt TENSION'],
      makes_safe: true,
      caution: 'Belt may snap.',
      remedy_part_minor: 4150,
    }
    const made = await post(t, 'components', body)
    expect(made.body).toMatchObject({ ...body, causes: ['Hums'], not_before: ['Belt tension'], version: 1 })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
  })

  test('every name and id that is unknown is pointed at', async () => {
    const t = await app()
    const body = { ...BEARING, causes: ['Hums', 'Smokes'] }
    await scenario(t, { as: 'owner', post: '/api/components', body, expect: 422, fields: ['/causes/0', '/causes/1'] })
    await scenario(t, {
      as: 'owner',
      post: '/api/components',
      body: { ...BEARING, access_step_ids: ['x'] },
      expect: 422,
      fields: ['/access_step_ids/0'],
    })
    await scenario(t, {
      as: 'owner',
      post: '/api/components',
      body: { ...BEARING, not_before: ['x'] },
      expect: 422,
      fields: ['/not_before/0'],
    })
    await scenario(t, {
      as: 'owner',
      post: '/api/components',
      body: { ...BEARING, remedy_operation_id: 'x' },
      expect: 422,
      fields: ['/remedy_operation_id'],
    })
    const bad = { name: 'x', severity: 'grave', causes: 'Hums', check_minutes: -1 }
    const fields = ['/severity', '/causes', '/check_minutes', '/access_step_ids']
    await scenario(t, { as: 'owner', post: '/api/components', body: bad, expect: 422, fields })
  })

  test('only the owner changes the catalogue', async () => {
    const t = await app()
    for (const as of ['desk', 'technician'] as const) {
      await scenario(t, { as, post: '/api/components', body: BEARING, expect: 403, problem: 'role-not-allowed' })
      await scenario(t, { as, post: '/api/access-steps', body: step('x'), expect: 403 })
      await scenario(t, { as, post: '/api/operations', body: OPERATION, expect: 403 })
      await scenario(t, { as, post: '/api/procedures', body: { name: 'x' }, expect: 403 })
      await scenario(t, { as, post: '/api/procedures/x/revisions', body: REVISION, expect: 403 })
    }
  })

  test('a change needs its version, keeps names unique, and makes no circle', async () => {
    const t = await app()
    const belt = await idOf(post(t, 'components', { ...BEARING, name: 'Belt' }))
    await post(t, 'components', { ...BEARING, not_before: ['Belt'] })
    const patch = `/api/components/${belt}`
    await scenario(t, { as: 'owner', patch, body: { severity: 'nuisance' }, expect: 428 })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { not_before: [BEARING.name] },
      ifMatch: '"1"',
      expect: 422,
      fields: ['/not_before'],
    })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { not_before: ['Belt'] },
      ifMatch: '"1"',
      expect: 422,
      fields: ['/not_before'],
    })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { name: 'REAR wheel bearing' },
      ifMatch: '"1"',
      expect: 409,
      problem: 'name-taken',
    })
    const changed = await scenario(t, {
      as: 'owner',
      patch,
      body: { name: 'BELT', caution: 'Hot.' },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(changed.body).toMatchObject({ name: 'BELT', caution: 'Hot.', version: 2 })
    await scenario(t, { as: 'owner', patch, body: {}, ifMatch: '"1"', expect: 412 })
    await scenario(t, { as: 'owner', patch: '/api/components/none', body: {}, ifMatch: '"1"', expect: 404 })
  })

  test('one that came with a name only says nothing that nobody has said, and can be edited', async () => {
    const t = await app()
    const id = write(t.system, tx => {
      const made = ensureComponent(t.system, tx, 'Hub seal')
      expect(ensureComponent(t.system, tx, 'hub  SEAL')).toBe(made)
      recordEvent(t.system, tx, { action: 'test.made', table: 'components', id: made })
      return made
    })
    const read = await scenario(t, { as: 'desk', get: `/api/components/${id}`, expect: 200 })
    expect(read.body).not.toHaveProperty('severity')
    expect(read.body).not.toHaveProperty('check_minutes')
    const patch = `/api/components/${id}`
    const changed = await scenario(t, {
      as: 'owner',
      patch,
      body: { severity: 'breakdown' },
      ifMatch: '"1"',
      expect: 200,
    })
    expect(changed.body).toMatchObject({ severity: 'breakdown', name: 'Hub seal' })
  })
})

describe('/api/access-steps', () => {
  test('a step needs others, exposes and disturbs components', async () => {
    const t = await app()
    await post(t, 'components', BEARING)
    const wheel = await idOf(post(t, 'access-steps', step('Wheel off')))
    const body = step('Hub off', { needs: [wheel], exposes: ['rear wheel bearing'], disturbs: [BEARING.name] })
    const made = await post(t, 'access-steps', body)
    expect(made.body).toMatchObject({ ...body, exposes: [BEARING.name] })
    expect((await scenario(t, { as: 'desk', get: made.headers.location!, expect: 200 })).body).toEqual(made.body)
  })

  test('a circle in needs is refused, direct or over others', async () => {
    const t = await app()
    const a = await idOf(post(t, 'access-steps', step('A')))
    const b = await idOf(post(t, 'access-steps', step('B', { needs: [a] })))
    const c = await idOf(post(t, 'access-steps', step('C', { needs: [b] })))
    const patch = `/api/access-steps/${a}`
    for (const needs of [[a], [b], [c]]) {
      await scenario(t, { as: 'owner', patch, body: { needs }, ifMatch: '"1"', expect: 422, fields: ['/needs'] })
    }
    const changed = await scenario(t, { as: 'owner', patch, body: { hours: 0 }, ifMatch: '"1"', expect: 200 })
    expect(changed.body).toMatchObject({ hours: 0, version: 2 })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { needs: ['none', a] },
      ifMatch: '"2"',
      expect: 422,
      fields: ['/needs/0'],
    })
    await scenario(t, {
      as: 'owner',
      patch,
      body: { exposes: ['none'] },
      ifMatch: '"2"',
      expect: 422,
      fields: ['/exposes/0'],
    })
    await scenario(t, { as: 'owner', patch, body: {}, ifMatch: '"1"', expect: 412 })
    await scenario(t, { as: 'owner', patch, body: {}, expect: 428 })
    await scenario(t, { as: 'owner', get: '/api/access-steps/none', expect: 404 })
  })
})

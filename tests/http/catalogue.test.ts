import { describe, expect, test } from 'vitest'
import { ensureComponent, ensureOperation, orderOfPositions } from '../../src/catalogue/index.ts'
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

describe('/api/procedures', () => {
  const revise = (t: TestApp, id: string, body: object) => post(t, `procedures/${id}/revisions`, body)
  const refused = async (t: TestApp, more: object, fields: string[], without: string[] = []) => {
    const body = Object.fromEntries(
      Object.entries({ ...REVISION, ...more }).filter(([name]) => !without.includes(name)),
    )
    const id = (await scenario(t, { as: 'owner', get: '/api/procedures', expect: 200 })).body.items[0].id
    await scenario(t, { as: 'owner', post: `/api/procedures/${id}/revisions`, body, expect: 422, fields })
  }

  test('revisions are added, numbered and kept', async () => {
    const t = await app()
    const made = await post(t, 'procedures', { name: 'Rear hub, six bolts' })
    expect(made.body).not.toHaveProperty('revision')
    const first = await revise(t, made.body.id, REVISION)
    expect(first.body).toMatchObject({ ...REVISION, revision: 1, procedure_id: made.body.id })
    const second = await revise(t, made.body.id, {
      ...REVISION,
      order: [1, 4, 2, 5, 3, 6],
      order_names: 'labels',
      thread: 'M10x1.25',
      class: '10.9',
    })
    expect(second.body).toMatchObject({
      revision: 2,
      order: [1, 4, 2, 5, 3, 6],
      order_names: 'labels',
      thread: 'M10x1.25',
    })
    const read = await scenario(t, { as: 'technician', get: first.headers.location!, expect: 200 })
    expect(read.body).toEqual(first.body)
    const list = await scenario(t, { as: 'technician', get: `/api/procedures/${made.body.id}/revisions`, expect: 200 })
    expect(list.body.items).toEqual([first.body, second.body])
    const now = await scenario(t, { as: 'technician', get: `/api/procedures/${made.body.id}`, expect: 200 })
    expect(now.body.revision).toBe(2)
    await scenario(t, { as: 'owner', post: '/api/procedures/none/revisions', body: REVISION, expect: 404 })
    await scenario(t, { as: 'owner', get: `/api/procedures/${made.body.id}/revisions/none`, expect: 404 })
  })

  test('a correction names the revision that was wrong, and why', async () => {
    const t = await app()
    const id = await idOf(post(t, 'procedures', { name: 'P' }))
    const other = await idOf(post(t, 'procedures', { name: 'Q' }))
    const wrong = await idOf(revise(t, id, REVISION))
    const elsewhere = await idOf(revise(t, other, REVISION))
    const revisions = `/api/procedures/${id}/revisions`
    await scenario(t, {
      as: 'owner',
      post: revisions,
      body: { ...REVISION, supersedes: wrong },
      expect: 422,
      fields: ['/reason'],
    })
    await scenario(t, {
      as: 'owner',
      post: revisions,
      body: { ...REVISION, reason: 'x' },
      expect: 422,
      fields: ['/supersedes'],
    })
    const foreign = { ...REVISION, supersedes: elsewhere, reason: 'x' }
    await scenario(t, { as: 'owner', post: revisions, body: foreign, expect: 422, fields: ['/supersedes'] })
    const right = await revise(t, id, { ...REVISION, supersedes: wrong, reason: 'Printed in lbf·ft, read as N·m' })
    expect(right.body).toMatchObject({ revision: 2, supersedes: wrong, reason: 'Printed in lbf·ft, read as N·m' })
  })

  test('what cannot be tightened is refused where it stands', async () => {
    const t = await app()
    await post(t, 'procedures', { name: 'P' })
    await refused(t, {}, ['/count'], ['count'])
    await refused(t, { layout: 'free' }, ['/positions'])
    await refused(t, { layout: 'rectangle' }, ['/rows'])
    await refused(t, { layout: 'rectangle', rows: 4 }, ['/rows'])
    await refused(t, { rows: 2 }, ['/rows'])
    await refused(t, { positions: [{ x_mm: 0, y_mm: 0 }] }, ['/count'])
    await refused(t, { order: [1, 2, 3, 4, 5, 5], order_names: 'positions' }, ['/order'])
    await refused(t, { order: [1, 2, 3], order_names: 'positions' }, ['/order'])
    await refused(t, { order: [6, 5, 4, 3, 2, 1] }, ['/order_names'])
    await refused(t, { order_names: 'labels' }, ['/order'])
    await refused(t, { stages: [] }, ['/stages'])
    await refused(t, { stages: Array(13).fill({ kind: 'torque', target: 1 }) }, ['/stages'])
    await refused(
      t,
      {
        stages: [
          { kind: 'torque', target: 0 },
          { kind: 'hammer', target: 5 },
        ],
      },
      ['/stages/0/target', '/stages/1/kind'],
    )
    await refused(t, { stages: [{ kind: 'torque', target: 10, lower: 11, upper: 9 }] }, [
      '/stages/0/lower',
      '/stages/0/upper',
    ])
    await refused(t, { source: undefined, reuse: 'sometimes' }, ['/source', '/reuse'])
  })

  test('a count that makes no lists beyond reason', async () => {
    const t = await app()
    await post(t, 'procedures', { name: 'P' })
    await refused(t, { count: 1e9 }, ['/count'])
    await refused(t, { count: 1.5 }, ['/count'])
  })
})

describe('the order of a procedure', () => {
  test.each([
    [{ layout: 'circle', count: 6 }, [1, 4, 2, 5, 3, 6]],
    [{ layout: 'free', count: 3 }, [1, 2, 3]],
    [{ layout: 'circle', count: 3, order: [3, 1, 2], order_names: 'positions' }, [3, 1, 2]],
    [{ layout: 'circle', count: 3, order: [3, 1, 2], order_names: 'labels' }, [2, 3, 1]],
  ] as const)('%j goes %j', (revision, order) => {
    const { order: own, ...rest } = { order: undefined, ...revision }
    expect(orderOfPositions({ ...rest, ...(own && { order: [...own] }) })).toEqual(order)
  })
})

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

import { describe, expect, test } from 'vitest'
import { orderOfPositions } from '../../src/catalogue/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

const app = eachTestItsApp()

const post = (t: TestApp, path: string, body: object): Promise<Reply> =>
  scenario(t, { as: 'owner', post: `/api/${path}`, body, expect: 201, events: 1 })
const idOf = async (reply: Promise<Reply>): Promise<string> => (await reply).body.id

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

  test('a torque that no such bolt can bear is refused, one above its proof load is taken with a warning', async () => {
    const t = await app()
    const id = await idOf(post(t, 'procedures', { name: 'P' }))
    const bolt = { thread: 'M8', class: '8.8', finish: 'oiled', marks: ['Flange to hub'] }
    const at = (target: number) => ({ ...REVISION, ...bolt, stages: [{ kind: 'torque', target }] })
    const taken = await revise(t, id, at(40))
    expect(taken.body).toMatchObject({ ...bolt, warnings: [{ field: 'stages/0/target' }] })
    const { body } = await scenario(t, {
      as: 'owner',
      post: `/api/procedures/${id}/revisions`,
      body: at(300),
      expect: 422,
      fields: ['/stages/0/target'],
    })
    expect(body.errors[0]).toMatchObject({ code: 'does_not_fit', detail: expect.stringContaining('more than twice') })
    await refused(t, { thread: 'M8', class: 'Z' }, ['/class'])
    await refused(t, { stages: [{ kind: 'torque', target: 3001 }] }, ['/stages/0/target'])
    const kept = await revise(t, id, { ...REVISION, thread: 'M11', stages: [{ kind: 'torque', target: 3000 }] })
    expect(kept.body.warnings).toMatchObject([{ field: 'thread', detail: expect.stringContaining('not understood') }])
    const read = await scenario(t, { as: 'technician', get: kept.headers.location!, expect: 200 })
    expect(read.body).toEqual(kept.body)
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

import { describe, expect, test } from 'vitest'
import { eachTestItsApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

const BOLT = { number: 'HB-10.9-35', name: 'Hub bolt M10', single_use: true }

describe('/api/parts', () => {
  test('a part is added, read back and listed', async () => {
    const t = await app()
    const made = await scenario(t, { as: 'desk', post: '/api/parts', body: BOLT, expect: 201, events: 1 })
    expect(made.body).toMatchObject({ ...BOLT, version: 1 })
    const other = { number: 'FD-2', name: 'Final drive belt' }
    const plain = await scenario(t, { as: 'owner', post: '/api/parts', body: other, expect: 201 })
    expect(plain.body.single_use).toBe(false)
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'technician', get: '/api/parts', expect: 200 })
    expect(list.body.items).toEqual([plain.body, made.body])
  })

  test('bad input, wrong role, unknown id and a number that is taken', async () => {
    const t = await app()
    await scenario(t, {
      as: 'desk',
      post: '/api/parts',
      body: { number: '', single_use: 'yes' },
      expect: 422,
      fields: ['/number', '/name', '/single_use'],
    })
    await scenario(t, { as: 'technician', post: '/api/parts', body: BOLT, expect: 403 })
    await scenario(t, { as: 'desk', get: '/api/parts/none', expect: 404 })
    await scenario(t, { as: 'desk', post: '/api/parts', body: BOLT, expect: 201 })
    const same = { ...BOLT, number: 'hb-10.9-35' }
    await scenario(t, {
      as: 'desk',
      post: '/api/parts',
      body: same,
      expect: 409,
      problem: 'name-taken',
      fields: ['/number'],
    })
  })

  test('a change needs the version that was read', async () => {
    const t = await app()
    const { headers } = await scenario(t, { as: 'desk', post: '/api/parts', body: BOLT, expect: 201 })
    const patch = headers.location!
    await scenario(t, { as: 'desk', patch, body: { name: 'x' }, expect: 428 })
    const changed = await scenario(t, {
      as: 'desk',
      patch,
      body: { name: 'Hub bolt', single_use: null },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(changed.body).toMatchObject({ number: BOLT.number, name: 'Hub bolt', single_use: false, version: 2 })
    await scenario(t, { as: 'desk', patch, body: { name: 'x' }, ifMatch: '"1"', expect: 412 })
  })
})

describe('/api/suppliers', () => {
  test('a supplier is added once, changed and listed', async () => {
    const t = await app()
    const made = await scenario(t, {
      as: 'desk',
      post: '/api/suppliers',
      body: { name: 'Harbour Bearings' },
      expect: 201,
      events: 1,
    })
    await scenario(t, {
      as: 'desk',
      post: '/api/suppliers',
      body: { name: 'harbour bearings' },
      expect: 409,
      fields: ['/name'],
    })
    await scenario(t, { as: 'technician', post: '/api/suppliers', body: { name: 'x' }, expect: 403 })
    await scenario(t, { as: 'desk', post: '/api/suppliers', body: {}, expect: 422, fields: ['/name'] })
    const patch = made.headers.location!
    await scenario(t, { as: 'desk', patch, body: { name: 'y' }, expect: 428 })
    const changed = await scenario(t, {
      as: 'desk',
      patch,
      body: { name: 'HARBOUR bearings' },
      ifMatch: '"1"',
      expect: 200,
    })
    await scenario(t, { as: 'desk', patch, body: { name: 'y' }, ifMatch: '"1"', expect: 412 })
    const list = await scenario(t, { as: 'technician', get: '/api/suppliers', expect: 200 })
    expect(list.body.items).toEqual([changed.body])
    await scenario(t, { as: 'desk', get: '/api/suppliers/none', expect: 404 })
  })
})

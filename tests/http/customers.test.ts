import { describe, expect, test } from 'vitest'
import { recordEvent } from '../../src/platform/database/events.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { eraseCustomerRecord } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

const app = eachTestItsApp()

const BODIL = { name: 'Bodil Farrow', phone: '0555 014 220', email: 'bodil@farrow.example' }
const VAN = { family: 'Corvane Haulette B', variant: 'long', plate: 'QH 418 TK', odometer_unit: 'km' }

const customer = (t: TestApp, body: object = BODIL): Promise<Reply> =>
  scenario(t, { as: 'desk', post: '/api/customers', body, expect: 201, events: 1 })
describe('/api/customers', () => {
  test('a customer is added, read back and listed', async () => {
    const t = await app()
    const made = await customer(t)
    expect(made.body).toMatchObject({ ...BODIL, version: 1, created_at: '2031-03-03T08:00:00.000Z' })
    expect(made.body.created_by).toBe(t.as('desk').actor?.id)
    expect(made.body).not.toHaveProperty('address')
    expect(made.headers).toMatchObject({ location: `/api/customers/${made.body.id}`, etag: '"1"' })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'desk', get: '/api/customers', expect: 200 })
    expect(list.body).toEqual({ items: [made.body], next_cursor: null })
  })

  test('neither salt nor find key ever goes out', async () => {
    const t = await app()
    const made = await customer(t)
    expect(made.text).not.toMatch(/salt|find_key/)
  })

  test('each bad field is named, and nothing is written', async () => {
    const t = await app()
    const body = { name: '', phone: 5, email: 'not one', colour: 'blue' }
    const fields = ['/name', '/phone', '/email', '/colour']
    await scenario(t, { as: 'desk', post: '/api/customers', body, expect: 422, problem: 'invalid-input', fields })
    await scenario(t, { as: 'desk', post: '/api/customers', body: {}, expect: 422, fields: ['/name'] })
  })

  test('a technician may not, nor may somebody without a login', async () => {
    const t = await app()
    await scenario(t, {
      as: 'technician',
      post: '/api/customers',
      body: BODIL,
      expect: 403,
      problem: 'role-not-allowed',
    })
    await scenario(t, { as: null, post: '/api/customers', body: BODIL, expect: 401 })
    await scenario(t, { as: null, get: '/api/customers', expect: 401 })
  })

  test('a write without a key is refused; the same key and body answer the same; another body is refused', async () => {
    const t = await app()
    await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: null,
      expect: 400,
      problem: 'idempotency-key-missing',
    })
    const first = await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: 'k',
      expect: 201,
      events: 1,
    })
    const again = await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: 'k',
      expect: 201,
      events: 0,
    })
    expect(again.text).toBe(first.text)
    expect(again.headers.etag).toBe('"1"')
    await scenario(t, { as: 'desk', post: '/api/customers', body: VAN, key: 'k', expect: 422, problem: 'key-reused' })
  })

  test('a change needs the version that was read; null takes a field out', async () => {
    const t = await app()
    const { body } = await customer(t)
    const patch = `/api/customers/${body.id}`
    await scenario(t, { as: 'desk', patch, body: { note: 'Rings early' }, expect: 428, problem: 'if-match-missing' })
    const changed = await scenario(t, {
      as: 'desk',
      patch,
      body: { note: 'Rings early', phone: null },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(changed.body).toMatchObject({ name: BODIL.name, note: 'Rings early', version: 2 })
    expect(changed.body).not.toHaveProperty('phone')
    expect(changed.headers.etag).toBe('"2"')
    await scenario(t, { as: 'desk', patch, body: { note: 'x' }, ifMatch: '"1"', expect: 412, problem: 'stale-edit' })
    await scenario(t, { as: 'desk', patch, body: { name: null }, ifMatch: '"2"', expect: 422, fields: ['/name'] })
    await scenario(t, { as: 'technician', patch, body: { note: 'x' }, ifMatch: '"2"', expect: 403 })
  })

  test('an unknown id is 404', async () => {
    const t = await app()
    await scenario(t, { as: 'desk', get: '/api/customers/none', expect: 404, problem: 'not-found' })
    await scenario(t, { as: 'desk', patch: '/api/customers/none', body: {}, ifMatch: '"1"', expect: 404 })
  })

  test('they are found by name and telephone, and paged', async () => {
    const t = await app()
    for (const name of ['Zoë Ångström', 'Osk Brandl', 'Ann Brandl']) await customer(t, { name })
    const names = async (query: string) =>
      (await scenario(t, { as: 'desk', get: `/api/customers?${query}`, expect: 200 })).body
    expect((await names('q=zoe%20angstrom')).items.map((item: { name: string }) => item.name)).toEqual(['Zoë Ångström'])
    expect((await names('q=---')).items).toEqual([])
    const first = await names('limit=2')
    expect(first.items.map((item: { name: string }) => item.name)).toEqual(['Ann Brandl', 'Osk Brandl'])
    const second = await names(`limit=2&cursor=${first.next_cursor}`)
    expect(second.items.map((item: { name: string }) => item.name)).toEqual(['Zoë Ångström'])
    expect(second.next_cursor).toBeNull()
    await scenario(t, { as: 'desk', get: '/api/customers?limit=501', expect: 422, fields: ['/limit'] })
  })
})

test('emptying a customer leaves no word of theirs and another salt, in the write of whoever erases', async () => {
  const t = await app()
  const { body } = await customer(t)
  const row = () =>
    t.deps.store.raw.prepare('select * from customers where id = ?').get(body.id) as Record<string, string>
  const { salt } = row()
  write(t.system, tx => {
    eraseCustomerRecord(t.system, tx, body.id, 'Asked by letter')
    recordEvent(t.system, tx, { action: 'test.erased', table: 'customers', id: body.id })
  })
  expect(row()).toMatchObject({ name: 'Erased', phone: null, email: null, address: null, note: null, find_key: '' })
  expect(row().salt).not.toBe(salt)
  expect(JSON.stringify(row())).not.toContain('Bodil')
})

import { beforeEach, describe, expect, test } from 'vitest'
import { addPerson, createToken } from '../../src/accounts/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'

const program = eachTestItsApp()
let t: TestApp
beforeEach(async () => {
  t = await program()
})

describe('tokens and people', () => {
  test('a token is kept as its digest only, and acts under its own name and role', async () => {
    const { token, person } = createToken(t.system, { name: 'till at the counter', role: 'desk' })
    expect(JSON.stringify(t.deps.store.raw.prepare('select * from api_tokens').all())).not.toContain(token)
    await scenario(t, { as: null, get: '/api/settings', headers: { authorization: `Bearer ${token}` }, expect: 200 })
    expect(person).toMatchObject({ name: 'till at the counter', role: 'desk', kind: 'token', created_by: null })
  })

  test('a name is given once: a token that asks for one that is taken gets a number behind it', async () => {
    const made = [1, 2].map(() => createToken(t.system, { name: 'desk token', role: 'owner' }))
    expect(made.map(({ person }) => person.name)).toEqual(['desk token 2', 'desk token 3'])
    expect(new Set(made.map(({ person }) => person.id)).size).toBe(2)
    await expect(addPerson(t.system, { name: 'desk token', role: 'owner' })).rejects.toThrow(
      /There is already somebody called desk token/,
    )
  })

  test('only the owner, and the command line, add people or make tokens', async () => {
    for (const role of ['desk', 'technician'] as const) {
      expect(() => createToken(t.as(role), { name: 'x', role: 'owner' })).toThrow(/role-not-allowed/)
      await expect(addPerson(t.as(role), { name: 'x', role: 'owner' })).rejects.toMatchObject({
        type: 'role-not-allowed',
      })
      await scenario(t, { as: role, get: '/api/people', expect: 403, problem: 'role-not-allowed' })
      expect((await t.app.inject({ url: '/people', headers: { cookie: t.cookie(role) } })).statusCode).toBe(403)
    }
  })

  test('GET /api/people lists everybody, a page at a time, and tells no secret', async () => {
    const first = await scenario(t, { as: 'owner', get: '/api/people?limit=2', expect: 200 })
    expect(first.body.items.map((person: { name: string }) => person.name)).toEqual(['desk token', 'technician token'])
    const rest = await scenario(t, { as: 'owner', get: `/api/people?cursor=${first.body.next_cursor}`, expect: 200 })
    expect(rest.body.items.map((person: { name: string }) => person.name)).toEqual(['owner token'])
    expect(first.text + rest.text).not.toMatch(/scrypt|password|digest/)
  })

  test('the owner adds somebody on the page and is told the one-time password once', async () => {
    const cookie = t.cookie('owner')
    const page = await t.app.inject({ url: '/people', headers: { cookie } })
    const fields = Object.entries({ ...formFields(page.body, '/people'), name: 'Ann Tolley', role: 'technician' })
    expect((await sendForm(t, '/people', cookie, fields)).headers.location).toBe('/people')
    const after = await t.app.inject({ url: '/people', headers: { cookie } })
    expect(after.body).toMatch(/Ann Tolley can sign in with [a-z2-9-]{19} once/)
    expect((await t.app.inject({ url: '/people', headers: { cookie } })).body).not.toContain('can sign in with')
  })

  test('a name that is taken comes back on the form, with what was typed', async () => {
    const cookie = t.cookie('owner')
    const page = await t.app.inject({ url: '/people', headers: { cookie } })
    const fields = Object.entries({ ...formFields(page.body, '/people'), name: 'desk token', role: 'owner' })
    const reply = await sendForm(t, '/people', cookie, fields)
    expect(reply.statusCode).toBe(409)
    expect(formFields(reply.body, '/people')).toMatchObject({ name: 'desk token', role: 'owner' })
    expect(reply.body).toContain('<a href="#name">Name: there is already somebody called desk token')
  })
})

describe('settings', () => {
  test('are the defaults at version 0 until the owner says otherwise', async () => {
    const { body, headers } = await scenario(t, { as: 'technician', get: '/api/settings', expect: 200 })
    expect(headers.etag).toBe('"0"')
    expect(body).toMatchObject({
      labour_rate_minor: 6000,
      cost_rate_minor: 4000,
      our_share_bp: 10_000,
      tax_bp: 2000,
      default_tolerance_bp: 500,
      gauge_uncertainty_deg: 2,
      warranty_days: 365,
      warranty_km: 20_000,
      comeback_window_days: 90,
    })
  })

  test('PATCH changes what it names, null empties what may be empty, and the ETag goes on', async () => {
    const patch = { as: 'owner', patch: '/api/settings' } as const
    const first = await scenario(t, {
      ...patch,
      ifMatch: '"0"',
      body: { name: 'Pennard & Oake', place: 'Quillhaven', tax_bp: 1900 },
      expect: 200,
      events: 1,
    })
    expect(first.headers.etag).toBe('"1"')
    expect(first.body).toMatchObject({
      name: 'Pennard & Oake',
      place: 'Quillhaven',
      tax_bp: 1900,
      warranty_days: 365,
      created_at: '2031-03-03T08:00:00.000Z',
    })
    const second = await scenario(t, { ...patch, ifMatch: '"1"', body: { place: null }, expect: 200 })
    expect(second.body).not.toHaveProperty('place')
    await scenario(t, { ...patch, ifMatch: '"1"', body: { tax_bp: 0 }, expect: 412, problem: 'stale-edit' })
    const page = await t.app.inject('/login')
    expect(page.body).toContain('Pennard &amp; Oake')
  })

  test.each([
    [{ time_zone: 'Atlantis/Quillhaven' }, '/time_zone'],
    [{ locale: 'not a tag' }, '/locale'],
    [{ currency: 'XQZ' }, '/currency'],
    [{ labour_rate_minor: -1 }, '/labour_rate_minor'],
    [{ tax_bp: 10_001 }, '/tax_bp'],
    [{ name: null }, '/name'],
    [{ name: '' }, '/name'],
    [{ id: 'other' }, '/id'],
  ])('%j is refused', async (body, pointer) => {
    await scenario(t, { as: 'owner', patch: '/api/settings', ifMatch: '"0"', body, expect: 422, fields: [pointer] })
  })

  test('only the owner changes them', async () => {
    await scenario(t, { as: 'desk', patch: '/api/settings', ifMatch: '"0"', body: { tax_bp: 0 }, expect: 403 })
    expect((await t.app.inject({ url: '/settings', headers: { cookie: t.cookie('technician') } })).statusCode).toBe(403)
  })

  test('the page takes money and percentages as people write them', async () => {
    const cookie = t.cookie('owner')
    const page = await t.app.inject({ url: '/settings', headers: { cookie } })
    const shown = formFields(page.body, '/settings')
    expect(shown).toMatchObject({
      labour_rate_minor: '60.00',
      tax_bp: '20',
      our_share_bp: '100',
      default_tolerance_bp: '5',
      _version: '0',
    })
    const typed = { ...shown, labour_rate_minor: '72.50', tax_bp: '19,5', time_zone: 'Europe/Lisbon' }
    const sent = await sendForm(t, '/settings', cookie, Object.entries(typed))
    expect([sent.statusCode, sent.headers.location]).toEqual([303, '/settings'])
    const { body } = await scenario(t, { as: 'desk', get: '/api/settings', expect: 200 })
    expect(body).toMatchObject({ labour_rate_minor: 7250, tax_bp: 1950, time_zone: 'Europe/Lisbon' })
    expect((await t.app.inject({ url: '/settings', headers: { cookie } })).body).toContain('Settings kept.')
  })
})

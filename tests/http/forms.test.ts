import { beforeEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { pageForm, pagePost, pageRead } from '../../src/platform/http/page-route.ts'
import type { Pages } from '../../src/platform/http/pages.ts'
import { problem } from '../../src/platform/problems.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { formFields, sendForm } from '../support/http.ts'
import { count, newProbe, ProbeInput } from '../support/probe.ts'

const state = newProbe()

/** Pages that only this test has; they borrow a template that prints fields, keys and a summary. */
function probePages(pages: Pages): void {
  const Input = z.strictObject({
    name: ProbeInput.shape.name,
    role: z.enum(['desk', 'technician', 'owner']).meta({ title: 'Role' }),
  })
  const people = { classes: '', caption: null, columns: [], body: [], foot: [], empty: null }
  pageForm(pages, {
    url: '/probe/:id',
    roles: ['desk'],
    contract: Input,
    initial: (_ctx, { query }) => ({ values: { name: query.name ?? 'Held' }, version: state.version }),
    page: (_ctx, { form }) => ({
      template: 'accounts/people',
      sheet: { title: 'Probe' },
      view: { fields: form.fields(), people },
    }),
    submit(ctx, input, { params, version }) {
      if (version !== state.version) throw problem('stale-edit', { detail: 'changed' })
      if (input.name === 'taken')
        throw problem('name-taken', { detail: 'That is taken.', extra: { blockers: [{ sentence: 'By Ann.' }] } })
      const { number } = count(ctx, input.name)
      return { to: `/probe/${params.id}/done`, notice: `Counted ${number}.` }
    },
  })
  pagePost(pages, {
    url: '/probe/:id/tap',
    contract: z.strictObject({}),
    submit(ctx) {
      count(ctx, 'tap')
      return { to: '/settings' }
    },
  })
  pageRead(pages, {
    url: '/probe/:id/done',
    query: z.strictObject({ limit: z.int().max(10).optional() }),
    handle: (_ctx, { query }) => ({
      template: 'errors/problem-type',
      sheet: { title: 'Done' },
      view: { name: 'n', status: '1', help: `limit ${query.limit}` },
    }),
  })
}

describe('page routes', () => {
  const program = eachTestItsApp({ extra: { pages: [probePages] } })
  let t: TestApp
  let cookie: string
  beforeEach(async () => {
    Object.assign(state, newProbe())
    t = await program()
    cookie = t.cookie('desk')
  })

  const open = async (url: string) => t.app.inject({ url, headers: { cookie } })
  const counted = (name: string) =>
    t.deps.store.raw.prepare('select last_number from counters where id = ?').pluck().get(name) as number | undefined

  async function fields(more: Record<string, string>, url = '/probe/1'): Promise<Record<string, string>> {
    const shown = formFields((await open(url)).body, '/people')
    return { ...shown, role: 'desk', ...more }
  }
  const send = (typed: Record<string, string>, url = '/probe/1', as = cookie) =>
    sendForm(t, url, as, Object.entries(typed))

  test('a form does its work, says so once on the next page, and sending it twice does it once', async () => {
    const typed = await fields({ name: 'hub' })
    const [first, second] = [await send(typed), await send(typed)]
    expect([first.statusCode, first.headers.location]).toEqual([303, '/probe/1/done'])
    expect([second.statusCode, second.headers.location]).toEqual([303, '/probe/1/done'])
    expect(counted('hub')).toBe(1)
    expect((await open('/probe/1/done')).body).toContain('<p class="notice" role="status">Counted 1.</p>')
    expect((await open('/probe/1/done')).body).not.toContain('Counted')
    expect(t.deps.store.raw.prepare('select count(*) from events where actor_id is not null').pluck().get()).toBe(1)
  })

  test('sent again with other words it asks first, with a new key', async () => {
    const typed = await fields({ name: 'hub' })
    await send(typed)
    const again = await send({ ...typed, name: 'hub two' })
    expect(again.statusCode).toBe(422)
    expect(again.body).toContain('This form has been sent before with other content.')
    const shown = formFields(again.body, '/people')
    expect(shown.name).toBe('hub two')
    expect(shown._key).not.toBe(typed._key)
    expect((await send({ ...typed, ...shown })).statusCode).toBe(303)
    expect(counted('hub two')).toBe(1)
  })

  test('what the contract refuses comes back with the summary first, the title says so, and everything typed is kept', async () => {
    const reply = await send(await fields({ name: '', role: 'captain' }))
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('<title>Error: Probe')
    expect(reply.body).toContain('<a href="#name">Name: this is needed.</a>')
    expect(reply.body).toContain('<a href="#role">Role: choose one of: Desk, Technician, Owner.</a>')
    expect(reply.body.indexOf('error-summary')).toBeLessThan(reply.body.indexOf('<form action="/people"'))
    const odd = await send(await fields({ name: `<script>"O'Brien"&`, role: 'captain' }))
    expect(odd.body).not.toContain('<script>"')
    expect(formFields(odd.body, '/people').name).toBe(`<script>"O'Brien"&`)
  })

  test('what the service refuses comes back too, with what blocks it', async () => {
    const reply = await send(await fields({ name: 'taken' }))
    expect(reply.statusCode).toBe(409)
    expect(reply.body).toContain('That is taken. By Ann.')
    expect(formFields(reply.body, '/people').name).toBe('taken')
  })

  test('an edit from an old version is shown again with the new one, so that sending it once more is a decision', async () => {
    const typed = await fields({ name: 'mine' })
    state.version = 5
    const refused = await send(typed)
    expect(refused.statusCode).toBe(412)
    expect(refused.body).toContain('Somebody has changed this since you opened the form.')
    const shown = formFields(refused.body, '/people')
    expect(shown).toMatchObject({ name: 'mine', _version: '5' })
    expect((await send({ ...typed, ...shown })).statusCode).toBe(303)
  })

  test('a form may begin with what the address says', async () => {
    expect(formFields((await open('/probe/1?name=From%20the%20address')).body, '/people').name).toBe('From the address')
  })

  test('one tap is one form of its own; its key is shared with the page without harm', async () => {
    const { _key = '' } = await fields({})
    expect((await send({ _key }, '/probe/1/tap')).statusCode).toBe(303)
    expect((await send({ _key }, '/probe/1/tap')).statusCode).toBe(303)
    expect((await send({ _key }, '/probe/2/tap')).statusCode).toBe(303)
    expect(counted('tap')).toBe(2)
    const bad = await send({ _key, extra: 'x' }, '/probe/3/tap')
    expect(bad.statusCode).toBe(422)
    expect(bad.body).toContain('Not saved:')
  })

  test('a form without its key, from nobody, or of the wrong role is refused and does nothing', async () => {
    const typed = await fields({ name: 'hub' })
    const { _key: _, ...without } = typed
    expect((await send(without)).statusCode).toBe(400)
    expect((await send(typed, '/probe/1', 'witness_mark=nobody')).statusCode).toBe(401)
    expect((await send(typed, '/probe/1', t.cookie('technician'))).statusCode).toBe(403)
    const elsewhere = { cookie, origin: 'http://elsewhere.test', 'content-type': 'application/x-www-form-urlencoded' }
    const forged = await t.app.inject({
      method: 'POST',
      url: '/probe/1',
      headers: elsewhere,
      payload: new URLSearchParams(typed).toString(),
    })
    expect(forged.statusCode).toBe(403)
    expect(counted('hub')).toBeUndefined()
  })

  test('a page sends whoever is not signed in to the login and back', async () => {
    const reply = await t.app.inject('/probe/1?a=b')
    expect([reply.statusCode, reply.headers.location]).toEqual([303, '/login?next=%2Fprobe%2F1%3Fa%3Db'])
  })

  test('a page ignores parameters that it does not know, and refuses those that it cannot read', async () => {
    expect((await open('/probe/1/done?limit=7&utm=x')).body).toContain('limit 7')
    expect((await open('/probe/1/done?limit=70')).statusCode).toBe(422)
  })

  test.each([
    ['/nothing/here', 404],
    ['/problems/stale-edit', 200],
    ['/problems/no-such-thing', 404],
    ['/patterns', 200],
    ['/assets/nonsense/app.css', 404],
  ])('GET %s is %i, as a page', async (url, status) => {
    const reply = await open(url)
    expect(reply.statusCode).toBe(status)
    expect(reply.headers['content-type']).toBe('text/html; charset=utf-8')
    expect(reply.body).toContain('</html>')
  })

  test('style sheet and script are served under a name that changes with them', async () => {
    const page = await open('/probe/1')
    const [, sheet = ''] = /<link rel="stylesheet" href="([^"]+)"/.exec(page.body) ?? []
    const reply = await open(sheet)
    expect(reply.headers).toMatchObject({
      'content-type': 'text/css; charset=utf-8',
      'cache-control': 'public, max-age=31536000, immutable',
    })
    expect(page.headers['cache-control']).toBe('no-store')
  })

  test.each([
    ['application/json', '{}'],
    ['text/plain', 'x'],
    ['multipart/form-data; boundary=x', 'nonsense'],
  ])('a form sent as %s is refused as a page', async (type, payload) => {
    const reply = await t.app.inject({
      method: 'POST',
      url: '/probe/1',
      headers: { cookie, 'content-type': type },
      payload,
    })
    expect(reply.statusCode).toBe(type.startsWith('multipart') ? 400 : 415)
    expect(reply.body).toContain('</html>')
  })
})

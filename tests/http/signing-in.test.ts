import supertest from 'supertest'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { addPerson, createSetupLink, resetPassword } from '../../src/accounts/index.ts'
import { startServer } from '../../src/main.ts'
import { eachTestItsApp, type TestApp, testApp } from '../support/app.ts'
import { memoryStore } from '../support/database.ts'
import { formFields } from '../support/http.ts'

const FORM = 'application/x-www-form-urlencoded'
const OWN = 'three quiet anvils'

describe('signing in', () => {
  let fresh: TestApp
  beforeEach(async () => {
    fresh = await testApp()
  })
  afterEach(() => fresh.close())

  function browser() {
    return supertest.agent(fresh.app.server)
  }

  test('a name and a password of one’s own open the page that was asked for, and signing out ends it', async () => {
    await addPerson(fresh.system, { name: 'Ilse Marrok', role: 'owner' }, OWN)
    const agent = browser()
    const asked = await agent.get('/settings?x=1').expect(303)
    expect(asked.headers.location).toBe('/login?next=%2Fsettings%3Fx%3D1')
    const page = await agent.get(asked.headers.location ?? '').expect(200)
    const { next } = formFields(page.text, '/login')
    const opened = await agent
      .post('/login')
      .type(FORM)
      .send({ name: ' Ilse Marrok ', password: OWN, next })
      .expect(303)
    expect(opened.headers.location).toBe('/settings?x=1')
    expect(opened.headers['set-cookie']?.[0]).toMatch(
      /^witness_mark=[\w-]{43}; Max-Age=2592000; Path=\/; HttpOnly; SameSite=Lax$/,
    )
    expect((await agent.get('/settings').expect(200)).text).toContain('Signed in as Ilse Marrok, owner')
    const cookie = opened.headers['set-cookie']?.[0]?.split(';')[0] ?? ''
    await agent.post('/log-out').expect(303).expect('location', '/login')
    await agent.get('/settings').expect(303)
    await supertest(fresh.app.server).get('/settings').set('cookie', cookie).expect(303)
  })

  test('a wrong password and an unknown name are told the same, and nothing typed but the password comes back', async () => {
    await addPerson(fresh.system, { name: 'Ilse Marrok', role: 'desk' }, OWN)
    for (const name of ['Ilse Marrok', 'Nobody "here"', 'desk token']) {
      const reply = await browser()
        .post('/login')
        .type(FORM)
        .send({ name, password: 'a wrong one', next: '/x' })
        .expect(422)
      expect(reply.text).toContain('Name and password do not go together')
      expect(formFields(reply.text, '/login')).toEqual({ next: '/x', name, password: '' })
      expect(reply.headers).not.toHaveProperty('set-cookie')
    }
  })

  test('after ten wrong tries it waits, also for the right password, and opens again after ten minutes', async () => {
    await addPerson(fresh.system, { name: 'Ilse Marrok', role: 'desk' }, OWN)
    const send = (password: string) => browser().post('/login').type(FORM).send({ name: 'Ilse Marrok', password })
    for (let tries = 0; tries < 10; tries += 1) await send('wrong').expect(422)
    const waiting = await send(OWN).expect(429)
    expect(waiting.text).toContain('Wait ten minutes')
    expect(waiting.headers['retry-after']).toBe('60')
    fresh.clock.set(fresh.clock.now() + 10 * 60 * 1000)
    await send(OWN).expect(303)
  }, 60_000)

  test.each(['//elsewhere.test/', '/\\elsewhere.test', 'https://elsewhere.test/', ''])(
    'next=%j never leads to another site',
    async next => {
      await addPerson(fresh.system, { name: 'Ilse Marrok', role: 'desk' }, OWN)
      await browser()
        .post('/login')
        .type(FORM)
        .send({ name: 'Ilse Marrok', password: OWN, next })
        .expect('location', '/')
    },
  )

  test('a one-time password opens only the choice of one’s own', async () => {
    const { password } = await addPerson(fresh.system, { name: 'Osk Brandl', role: 'technician' })
    expect(password).toMatch(/^([a-z2-9]{4}-){3}[a-z2-9]{4}$/)
    const agent = browser()
    await agent.post('/login').type(FORM).send({ name: 'Osk Brandl', password }).expect(303)
    await agent.get('/people').expect(303).expect('location', '/password')
    const refused = await agent.get('/api/settings').expect(401)
    expect(refused.body.detail).toContain('Change the one-time password')
    expect((await agent.post('/password').type(FORM).send({ password: 'short' }).expect(422)).text).toContain(
      'Write at least 12 characters.',
    )
    await agent.post('/password').type(FORM).send({ password: OWN }).expect(303)
    await agent.get('/api/settings').expect(200)
    await browser().post('/login').type(FORM).send({ name: 'Osk Brandl', password }).expect(422)
  })

  test('a reset ends every session and gives a one-time password', async () => {
    await addPerson(fresh.system, { name: 'Osk Brandl', role: 'technician' }, OWN)
    const agent = browser()
    await agent.post('/login').type(FORM).send({ name: 'Osk Brandl', password: OWN }).expect(303)
    const { password } = await resetPassword(fresh.system, 'Osk Brandl')
    await agent.get('/api/settings').expect(401)
    await browser().post('/login').type(FORM).send({ name: 'Osk Brandl', password: OWN }).expect(422)
    await browser().post('/login').type(FORM).send({ name: 'Osk Brandl', password }).expect(303)
    await expect(resetPassword(fresh.system, 'Nobody')).rejects.toMatchObject({ type: 'not-found' })
  })

  test('a session ends after 30 days', async () => {
    const cookie = fresh.cookie('desk')
    fresh.clock.set(fresh.clock.now() + 30 * 24 * 60 * 60 * 1000 - 1)
    await supertest(fresh.app.server).get('/api/settings').set('cookie', cookie).expect(200)
    fresh.clock.set(fresh.clock.now() + 1)
    await supertest(fresh.app.server).get('/api/settings').set('cookie', cookie).expect(401)
  })

  test('a form of another site cannot sign anybody in', async () => {
    await browser()
      .post('/login')
      .set('origin', 'http://elsewhere.test')
      .type(FORM)
      .send({ name: 'a', password: 'b' })
      .expect(403)
  })
})

const program = eachTestItsApp()
let t: TestApp
beforeEach(async () => {
  t = await program()
})

describe('the first start', () => {
  test('prints a one-time link while nobody signs in; it makes the owner, signed in, and is used up', async () => {
    const store = memoryStore()
    const server = await startServer({ ...t.deps, store }, { host: '127.0.0.1', port: 0 })
    try {
      expect(server.url).toMatch(/^http:\/\/127\.0\.0\.1:[1-9]\d*$/)
      expect(server.setupUrl).toMatch(/\/setup\/[\w-]{32}$/)
      const path = (server.setupUrl ?? '').slice(server.url.length)
      const agent = supertest.agent(server.url)
      expect((await agent.get(path).expect(200)).text).toContain('Nobody can sign in here yet')
      const short = await agent.post(path).type(FORM).send({ name: 'Ilse Marrok', password: 'short' }).expect(422)
      expect(formFields(short.text, path)).toMatchObject({ name: 'Ilse Marrok' })
      await agent
        .post(path)
        .type(FORM)
        .send({ name: 'Ilse Marrok', password: OWN })
        .expect(303)
        .expect('location', '/settings')
      expect((await agent.get('/settings').expect(200)).text).toContain('Signed in as Ilse Marrok, owner')
      await supertest(server.url).get(path).expect(404)
      await supertest(server.url).post(path).type(FORM).send({ name: 'Second', password: OWN }).expect(404)
      expect(store.raw.prepare('select name, role, kind from people').all()).toEqual([
        { name: 'Ilse Marrok', role: 'owner', kind: 'person' },
      ])
    } finally {
      await server.stop()
    }
  })

  test('a link of an earlier start ends with the next, a token is nobody who signs in, and with a person there is no link', async () => {
    const first = createSetupLink(t.system)
    const second = createSetupLink(t.system)
    const status = async (secret: string | null) => (await t.app.inject(`/setup/${secret}`)).statusCode
    expect([await status(first), await status(second), await status('nonsense')]).toEqual([404, 200, 404])
    t.cookie('desk')
    expect(createSetupLink(t.system)).toBeNull()
    expect(await status(second)).toBe(404)
  })
})

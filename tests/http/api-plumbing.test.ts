import { beforeEach, describe, expect, test } from 'vitest'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { newProbe, probeApi } from '../support/probe.ts'

const state = newProbe()
const program = eachTestItsApp({ extra: { apis: [probeApi(state)] } })
let t: TestApp
beforeEach(async () => {
  Object.assign(state, newProbe())
  t = await program()
})
function count(name: string): number {
  return (
    (t.deps.store.raw.prepare('select last_number from counters where id = ?').pluck().get(name) as
      | number
      | undefined) ?? 0
  )
}

function storedAnswers(): number {
  return t.deps.store.raw.prepare('select count(*) from stored_answers').pluck().get() as number
}

describe('the order of checks', () => {
  test('nobody is signed in: 401 before the missing key, with the way to put it right', async () => {
    const reply = await scenario(t, {
      as: null,
      post: '/api/probes',
      key: null,
      body: {},
      expect: 401,
      problem: 'not-signed-in',
    })
    expect(reply.headers['www-authenticate']).toBe('Bearer')
    expect(reply.body).toMatchObject({
      title: 'Not signed in',
      status: 401,
      detail: 'Send Authorization: Bearer <token>.',
    })
    expect(reply.body.instance).toMatch(/^[0-9a-f-]{36}$/)
  })

  test('an unknown token is 401, though a good session comes with it', async () => {
    const headers = { authorization: 'Bearer wm_nobody', cookie: t.cookie('owner') }
    await scenario(t, { as: null, get: '/api/probes', headers, expect: 401, problem: 'not-signed-in' })
  })

  test('the missing key is 400 before the role', async () => {
    await scenario(t, {
      as: 'technician',
      post: '/api/probes',
      key: null,
      body: {},
      expect: 400,
      problem: 'idempotency-key-missing',
    })
  })

  test('a key that is too long to keep is 400', async () => {
    await scenario(t, {
      as: 'desk',
      post: '/api/probes',
      key: 'k'.repeat(201),
      body: { name: 'a' },
      expect: 400,
      problem: 'not-readable',
    })
  })

  test('the role is 403 before the body and before any look-up', async () => {
    await scenario(t, {
      as: 'technician',
      post: '/api/probes',
      body: { nonsense: 1 },
      expect: 403,
      problem: 'role-not-allowed',
    })
    await scenario(t, { as: 'desk', patch: '/api/probes/no-such', body: {}, expect: 403, problem: 'role-not-allowed' })
  })

  test('the body is 422 before If-Match is 428, and that before 404', async () => {
    const path = { as: 'technician', patch: '/api/probes/no-such' } as const
    await scenario(t, { ...path, body: { name: 7 }, expect: 422, problem: 'invalid-input', fields: ['/name'] })
    await scenario(t, { ...path, body: { name: 'x' }, expect: 428, problem: 'if-match-missing' })
    await scenario(t, { ...path, body: { name: 'x' }, ifMatch: '"1"', expect: 404, problem: 'not-found' })
  })

  test('the owner may do what any role may', async () => {
    await scenario(t, { as: 'owner', post: '/api/probes', body: { name: 'a' }, expect: 201, events: 1 })
  })
})

describe('what a write answers', () => {
  test('201, Location, and one event', async () => {
    const reply = await scenario(t, {
      as: 'desk',
      post: '/api/probes',
      body: { name: 'brake hose' },
      expect: 201,
      events: 1,
    })
    expect(reply.body).toEqual({ id: 'brake hose', number: 1, by: 'desk token' })
    expect(reply.headers.location).toBe('/api/probes/brake%20hose')
  })

  test('a fault in the middle rolls back row, event and key, and tells nothing of its cause', async () => {
    state.failWith = new Error('secret cause')
    const reply = await scenario(t, {
      as: 'desk',
      post: '/api/probes',
      body: { name: 'a' },
      key: 'k1',
      expect: 500,
      problem: 'internal',
      events: 0,
    })
    expect(reply.text).not.toContain('secret')
    expect(t.errors.splice(0)).toMatchObject([{ err: { message: 'secret cause' } }])
    expect([count('a'), storedAnswers()]).toEqual([0, 0])
    state.failWith = null
    await scenario(t, { as: 'desk', post: '/api/probes', body: { name: 'a' }, key: 'k1', expect: 201, events: 1 })
  })

  test('an answer that its contract does not describe never goes out', async () => {
    const reply = await scenario(t, { as: 'desk', get: '/api/probes/leaky', expect: 500, problem: 'internal' })
    expect(reply.text).not.toContain('secret')
    expect(t.errors.splice(0)[0]?.err?.message).toContain('does not match its contract')
  })

  test('a computing POST is 200, needs no key and stores nothing', async () => {
    const reply = await scenario(t, {
      as: 'technician',
      post: '/api/probes/sum',
      key: null,
      body: { quantities: [1, 2.5] },
      expect: 200,
      events: 0,
    })
    expect(reply.body).toEqual({ sum: 3.5 })
    expect(storedAnswers()).toBe(0)
  })
})

describe('who asks, and from where', () => {
  test('a page of this program may call the API with its session', async () => {
    const headers = { cookie: t.cookie('desk'), origin: 'http://localhost:80', host: 'localhost:80' }
    const reply = await scenario(t, { as: null, post: '/api/probes', body: { name: 'a' }, headers, expect: 201 })
    expect(reply.body.by).toBe('desk person')
  })

  test.each([
    [{ origin: 'http://elsewhere.test', host: 'bench.test' }],
    [{ origin: 'null', host: 'bench.test' }],
    [{ 'sec-fetch-site': 'cross-site', origin: 'http://bench.test', host: 'bench.test' }],
    [{ 'sec-fetch-site': 'same-site' }],
  ])('a page of another site may not: %j', async headers => {
    const all = { cookie: t.cookie('desk'), ...headers } as Record<string, string>
    await scenario(t, {
      as: null,
      post: '/api/probes',
      body: { name: 'a' },
      headers: all,
      expect: 403,
      problem: 'cross-site',
    })
    await scenario(t, { as: null, get: '/api/probes', headers: all, expect: 200 })
  })

  test('a bearer token may come from anywhere', async () => {
    await scenario(t, {
      as: 'desk',
      post: '/api/probes',
      body: { name: 'a' },
      headers: { origin: 'http://elsewhere.test' },
      expect: 201,
    })
  })
})

describe('uploads', () => {
  function multipart(photo: string): Buffer {
    return Buffer.from(
      `--x\r\ncontent-disposition: form-data; name="name"\r\n\r\nwith photo\r\n--x\r\ncontent-disposition: form-data; name="photo"; filename="p.jpg"\r\ncontent-type: image/jpeg\r\n\r\n${photo}\r\n--x--\r\n`,
    )
  }
  const headers = { 'content-type': 'multipart/form-data; boundary=x' }

  test('fields by the contract, files beside it; the bytes are part of what a key stands for', async () => {
    const post = { as: 'desk', post: '/api/probes', headers, key: 'up' } as const
    const first = await scenario(t, { ...post, body: multipart('12345'), expect: 201 })
    expect(first.body.number).toBe(6)
    expect((await scenario(t, { ...post, body: multipart('12345'), expect: 201, events: 0 })).text).toBe(first.text)
    await scenario(t, { ...post, body: multipart('54321'), expect: 422, problem: 'key-reused' })
  })

  test('where no file is taken, a multipart body is refused', async () => {
    await scenario(t, {
      as: 'technician',
      patch: '/api/probes/held',
      headers,
      body: multipart('1'),
      ifMatch: '"1"',
      expect: 415,
      problem: 'media-type',
    })
  })

  test.each(['--x\r\n', 'nonsense', '--x\r\ncontent-disposition: form-data; name="name"\r\n\r\nunfinished'])(
    'a broken one is no 500: %j',
    async body => {
      const reply = await t.app.inject({
        method: 'POST',
        url: '/api/probes',
        headers: { ...headers, authorization: `Bearer ${t.tokens.desk}`, 'idempotency-key': 'broken' },
        payload: body,
      })
      expect(reply.statusCode).toBeGreaterThanOrEqual(400)
      expect(reply.statusCode).toBeLessThan(500)
    },
  )
})

describe('GET /api/openapi.json', () => {
  test('is OpenAPI 3.1 without a login, with every route and every named schema', async () => {
    const { body } = await scenario(t, { as: null, get: '/api/openapi.json', expect: 200 })
    expect(body.openapi).toBe('3.1.0')
    expect(Object.keys(body.paths)).toEqual(
      expect.arrayContaining(['/api/settings', '/api/people', '/api/probes', '/api/probes/{id}', '/api/probes/sum']),
    )
    const { post, get } = body.paths['/api/probes']
    const { properties, required } = post.requestBody.content['multipart/form-data'].schema
    expect(properties).toMatchObject({ name: { type: 'string' }, photo: { type: 'string' } })
    expect(required).toEqual(['name', 'photo'])
    const patch = body.paths['/api/probes/{id}'].patch
    expect(patch.requestBody.content['application/json'].schema).toEqual({ $ref: '#/components/schemas/ProbePatch' })
    expect(post.responses['201'].content['application/json'].schema).toEqual({ $ref: '#/components/schemas/Counted' })
    expect(post.responses['4XX'].content['application/problem+json'].schema).toEqual({
      $ref: '#/components/schemas/Problem',
    })
    expect(post.parameters).toContainEqual(
      expect.objectContaining({ in: 'header', name: 'idempotency-key', required: true }),
    )
    expect(get.parameters.map((parameter: { name: string }) => parameter.name)).toEqual([
      'from',
      'word',
      'limit',
      'cursor',
    ])
    expect(body.paths['/api/probes/{id}'].patch.parameters).toContainEqual(
      expect.objectContaining({ in: 'path', name: 'id', required: true }),
    )
    expect(JSON.stringify(body)).not.toMatch(/"(keep_empty|input|classes)":/)
  })

  test('every reference leads somewhere', async () => {
    const { body, text } = await scenario(t, { as: null, get: '/api/openapi.json', expect: 200 })
    for (const [, name = ''] of text.matchAll(/"\$ref":"#\/components\/schemas\/([^"]+)"/g))
      expect(body.components.schemas, name).toHaveProperty(name)
    expect(text).not.toContain('$defs')
  })
})

describe('what every answer carries', () => {
  test('a policy that loads only from here, works on plain http, and lets our own forms say where they come from', async () => {
    const { headers } = await t.app.inject('/login')
    expect(headers['content-security-policy']).toContain("default-src 'self'")
    expect(headers['content-security-policy']).not.toContain('upgrade-insecure-requests')
    expect(headers['content-security-policy']).not.toContain('unsafe')
    expect(headers['referrer-policy']).toBe('same-origin')
    expect(headers['x-content-type-options']).toBe('nosniff')
    expect(headers).not.toHaveProperty('strict-transport-security')
  })

  test('GET /healthz answers 200 while the database does', async () => {
    const reply = await t.app.inject('/healthz')
    expect([reply.statusCode, reply.json()]).toEqual([200, { status: 'ok' }])
    expect(() => write(t.system, () => Promise.resolve() as never)).toThrow('synchronous')
  })
})

import { beforeEach, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { check } from '../../src/platform/check.ts'
import { Name } from '../../src/platform/contract.ts'
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
function storedAnswers(): number {
  return t.deps.store.raw.prepare('select count(*) from stored_answers').pluck().get() as number
}

describe('the errors array', () => {
  test('names every bad field by JSON pointer, in words that say what to do', async () => {
    const body = {
      line: ' x',
      note: '   ',
      seen_on: '2031-02-30',
      taken_at: '2031-03-03 10:00',
      price_minor: 12.5,
      mood: 'sad',
      ready: 'yes',
      lines: [
        { text: 'ok', quantity: 1 },
        { text: 'x', quantity: 0, 'a/b~c': 1 },
      ],
      constructor: 1,
    }
    const reply = await scenario(t, {
      as: 'desk',
      post: '/api/probes',
      body,
      expect: 422,
      problem: 'invalid-input',
      fields: [
        '/name',
        '/line',
        '/note',
        '/seen_on',
        '/taken_at',
        '/price_minor',
        '/mood',
        '/ready',
        '/lines/1/quantity',
        '/lines/1/a~1b~0c',
        '/constructor',
      ],
    })
    const said = Object.fromEntries(
      reply.body.errors.map((error: { pointer: string; detail: string; code: string }) => [
        error.pointer,
        `${error.code}: ${error.detail}`,
      ]),
    )
    expect(said).toMatchObject({
      '/name': 'missing: This is needed.',
      '/seen_on': 'invalid_format: This must be a day that exists, written YYYY-MM-DD.',
      '/price_minor': 'invalid_type: This must be a whole number.',
      '/mood': 'invalid_value: Choose one of: fine, unsure.',
      '/lines/1/quantity': 'too_small: This must be more than 0.',
      '/constructor': 'unknown_field: There is no field of this name here.',
    })
  })

  test('a choice of forms is judged by the form that fits best', async () => {
    const post = { as: 'desk', post: '/api/probes', expect: 422 } as const
    await scenario(t, { ...post, body: { name: 'a', either: { job_id: 7 } }, fields: ['/either/job_id'] })
    await scenario(t, { ...post, body: { name: 'a', either: 'job' }, fields: ['/either'] })
  })

  test('a body that is left out counts as an empty object', async () => {
    await scenario(t, { as: 'desk', post: '/api/probes', expect: 422, fields: ['/name'] })
    await scenario(t, { as: 'desk', post: '/api/probes', body: '', expect: 422, fields: ['/name'] })
  })
})

describe('one message a field and rule', () => {
  const contract = z.strictObject({ plate: Name.max(40), count: z.int().min(1).max(500) })
  const said = (input: object) => {
    const checked = check(contract, input)
    return checked.ok ? [] : checked.errors.map(({ pointer, detail }) => `${pointer} ${detail}`)
  }

  test('of two bounds the narrower', () => {
    expect(said({ plate: 'x'.repeat(201), count: 1e300 })).toEqual([
      '/plate Write at most 40 characters.',
      '/count This must be 500 or less.',
    ])
    expect(said({ plate: 'x'.repeat(41), count: -1e300 })).toEqual([
      '/plate Write at most 40 characters.',
      '/count This must be 1 or more.',
    ])
  })

  test('two rules of one field are both said', () => {
    expect(said({ plate: `\n${'x'.repeat(40)}`, count: 1 })).toHaveLength(2)
  })
})

describe('a body that says null', () => {
  test.each([
    ['null', 'The body is null.'],
    ['false', 'This must be an object.'],
  ])('%s is refused, where nothing is needed too', async (body, words) => {
    const wanted = { expect: 422, problem: 'invalid-input', fields: [''] }
    const patch = await scenario(t, { as: 'technician', patch: '/api/probes/held', body, ifMatch: '"1"', ...wanted })
    expect(patch.body.detail).toContain(words)
  })

  test('null is refused of what is only computed, too', async () => {
    await scenario(t, { as: 'desk', post: '/api/probes/sum', body: 'null', key: null, expect: 422, fields: [''] })
  })

  test('one that is left out, or {}, changes nothing', async () => {
    await scenario(t, { as: 'technician', patch: '/api/probes/held', ifMatch: '"1"', expect: 200 })
    await scenario(t, { as: 'technician', patch: '/api/probes/held', body: {}, ifMatch: '"2"', expect: 200 })
  })
})

describe('queries and lists', () => {
  test('50 at a time, then from the cursor on', async () => {
    const first = await scenario(t, { as: 'desk', get: '/api/probes', expect: 200 })
    expect(first.body.items).toHaveLength(50)
    const second = await scenario(t, {
      as: 'desk',
      get: `/api/probes?limit=500&cursor=${first.body.next_cursor}`,
      expect: 200,
    })
    expect(second.body.items).toHaveLength(500)
    expect(second.body.items[0]).toEqual({ id: '50' })
    const third = await scenario(t, {
      as: 'desk',
      get: `/api/probes?limit=500&cursor=${second.body.next_cursor}`,
      expect: 200,
    })
    expect(third.body.items).toHaveLength(450)
    expect(third.body.next_cursor).toBeNull()
  })

  test.each([
    ['limit=0', '/limit'],
    ['limit=501', '/limit'],
    ['limit=ten', '/limit'],
    ['limit=1&limit=2', '/limit'],
    ['limit=1e999', '/limit'],
    ['cursor=%00', '/cursor'],
    ['cursor=nonsense!', '/cursor'],
    ['from=-1', '/from'],
    ['from=1,5', '/from'],
    ['nonsense=1', '/nonsense'],
    ['limit[x]=1', '/limit'],
    ['__proto__=1', '/__proto__'],
  ])('?%s is 422 and points at %s', async (query, pointer) => {
    await scenario(t, {
      as: 'desk',
      get: `/api/probes?${query}`,
      expect: 422,
      problem: 'invalid-input',
      fields: [pointer],
    })
  })

  test('an empty parameter is absent, unless the contract keeps it', async () => {
    const get = (query: string) => scenario(t, { as: 'desk', get: `/api/probes?limit=1&${query}`, expect: 200 })
    expect((await get('from=')).body.items).toEqual([{ id: '0' }])
    expect((await get('from=7')).body.items).toEqual([{ id: '7' }])
    expect((await get('word=')).body.items).toEqual([{ id: '0', word: '' }])
  })
})

describe('no input gives a 500', () => {
  const post = { as: 'desk', post: '/api/probes' } as const

  test.each([
    ['malformed JSON', '{"name": "a"', 400],
    ['no JSON at all', 'name=a', 400],
    ['a forbidden member', '{"__proto__": {"name": "a"}}', 400],
    ['100 000 levels', '['.repeat(100_000) + ']'.repeat(100_000), 400],
    ['33 levels under a field', `{"name":${'['.repeat(33)}${']'.repeat(33)}}`, 400],
    ['30 levels under a field', `{"name":${'['.repeat(30)}${']'.repeat(30)}}`, 422],
    ['a list for the body', '[]', 422],
    ['null for the body', 'null', 422],
    ['a number too large', '{"name":"a","price_minor":1e400}', 422],
    ['an integer that is not safe', '{"name":"a","price_minor":9007199254740993}', 422],
    ['a NUL in a name', '{"name":"a\\u0000b"}', 422],
    ['a lone surrogate', '{"name":"\\ud800"}', 422],
    ['a list for a text', '{"name":["a"]}', 422],
    ['a name too long', `{"name":"${'a'.repeat(201)}"}`, 422],
    ['bytes that are no UTF-8', Buffer.from([0x7b, 0xff, 0xfe]), 400],
    ['a text that is no UTF-8', Buffer.from('{"name":"caf\xe9"}', 'latin1'), 400],
    ['half of a character at the end of a text', Buffer.from('{"name":"\xe2\x82"}', 'latin1'), 400],
    ['a byte order mark and valid UTF-8', Buffer.from('\ufeff{"name":7,"line":"café"}'), 422],
  ])('%s', async (_what, body, status) => {
    await scenario(t, { ...post, body, expect: status, events: 0 })
  })

  test('a body of more than a megabyte is 413', async () => {
    await scenario(t, {
      ...post,
      body: `{"name":"${'a'.repeat(1024 * 1024)}"}`,
      expect: 413,
      problem: 'body-too-large',
    })
  })

  test.each(['text/plain', 'application/xml', 'nonsense', 'application/x-www-form-urlencoded'])(
    '%s is 415',
    async type => {
      await scenario(t, { ...post, body: 'x', headers: { 'content-type': type }, expect: 415, problem: 'media-type' })
    },
  )

  test.each([
    ['/api/probes/%', 400],
    ['/api/probes/%ff', 400],
    ['/api/probes/%00', 404],
    ['/api/probes/%2e%2e%2f', 404],
    [`/api/probes/${'a'.repeat(400)}`, 404],
    [`/api/probes/${'a'.repeat(2000)}`, 404],
    ['/api/no/such/thing', 404],
    ['/api/probes?limit=%ff', 422],
  ])('GET %s is %i', async (url, status) => {
    await scenario(t, { as: 'desk', get: url, expect: status })
  })

  test('a wrong method is 404, as a problem document', async () => {
    await scenario(t, { as: 'desk', put: '/api/probes', body: {}, expect: 404, problem: 'not-found' })
  })

  test('a busy database is 503 and says when to come back', async () => {
    const { SqliteError } = await import('better-sqlite3').then(module => module.default)
    state.failWith = new SqliteError('database is locked', 'SQLITE_BUSY')
    const reply = await scenario(t, { ...post, body: { name: 'a' }, key: 'b', expect: 503, problem: 'busy' })
    expect(reply.headers['retry-after']).toBe('1')
    expect(storedAnswers()).toBe(0)
    expect(t.errors.splice(0)).toHaveLength(1)
  })
})

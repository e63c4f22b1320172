import { beforeEach, describe, expect, test } from 'vitest'
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

describe('Idempotency-Key', () => {
  const post = { as: 'desk', post: '/api/probes', key: 'same' } as const

  test('a repeat gets the first answer word for word, and nothing is done again', async () => {
    const first = await scenario(t, { ...post, body: { name: 'a', line: 'x' }, expect: 201, events: 1 })
    t.clock.set(t.clock.now() + 60_000)
    const again = await scenario(t, { ...post, body: { line: 'x', name: 'a' }, expect: 201, events: 0 })
    expect(again.text).toBe(first.text)
    expect(again.headers.location).toBe(first.headers.location)
    expect(count('a')).toBe(1)
  })

  test('another body, or another address, under the same key is 422, and the first answer stays', async () => {
    const first = await scenario(t, { ...post, body: { name: 'a' }, expect: 201 })
    await scenario(t, { ...post, body: { name: 'b' }, expect: 422, problem: 'key-reused' })
    await scenario(t, { ...post, body: { nonsense: true }, expect: 422, problem: 'key-reused' })
    await scenario(t, { as: 'owner', patch: '/api/probes/held', key: 'same', body: {}, ifMatch: '"1"', expect: 200 })
    expect((await scenario(t, { ...post, body: { name: 'a' }, expect: 201 })).text).toBe(first.text)
  })

  test('keys belong to a person: two may use the same one', async () => {
    await scenario(t, { ...post, body: { name: 'a' }, expect: 201, events: 1 })
    const other = await scenario(t, { ...post, as: 'owner', body: { name: 'a' }, expect: 201, events: 1 })
    expect(other.body.number).toBe(2)
  })

  test.each([
    [{ nonsense: 1 }, 422, 'invalid-input'],
    [{ name: 'absent' }, 404, 'not-found'],
    [{ name: 'blocked' }, 409, 'name-taken'],
  ] as const)('a refusal that judged the content is an answer too: %j', async (body, status, problem) => {
    const first = await scenario(t, { ...post, body, expect: status, problem, events: 0 })
    const again = await scenario(t, { ...post, body, expect: status, problem, events: 0 })
    expect(again.text).toBe(first.text)
    expect(again.body.instance).toBe(first.body.instance)
    await scenario(t, { ...post, body: { name: 'other' }, expect: 422, problem: 'key-reused', events: 0 })
    expect(count('absent') + count('blocked')).toBe(0)
  })

  test('what blocks stands in the problem document', async () => {
    const reply = await scenario(t, { ...post, body: { name: 'blocked' }, expect: 409 })
    expect(reply.body.blockers).toEqual([{ reason: 'look', sentence: 'A look is open.', href: '/looks/1' }])
  })

  test.each([
    ['401', { as: null, body: { name: 'a' }, expect: 401 }],
    ['403', { as: 'technician', body: { name: 'a' }, expect: 403 }],
    ['400', { as: 'desk', body: '{"name":', expect: 400 }],
    [
      '415',
      { as: 'desk', body: 'name=a', headers: { 'content-type': 'application/x-www-form-urlencoded' }, expect: 415 },
    ],
  ] as const)('%s is no answer: the key stays unused', async (_status, refused) => {
    await scenario(t, { ...post, ...refused })
    expect(storedAnswers()).toBe(0)
    await scenario(t, { ...post, body: { name: 'a' }, expect: 201 })
  })

  test('428 leaves the key unused; 412 is an answer', async () => {
    const patch = { as: 'technician', patch: '/api/probes/held', body: { line: 'x' }, key: 'p' } as const
    await scenario(t, { ...patch, expect: 428 })
    await scenario(t, { ...patch, ifMatch: '"7"', expect: 412, problem: 'stale-edit' })
    state.version = 7
    await scenario(t, { ...patch, ifMatch: '"7"', expect: 412, problem: 'stale-edit' })
    await scenario(t, { ...patch, key: 'q', ifMatch: '"7"', expect: 200, events: 1 })
  })

  test('answers are kept 30 days, and cleared by the writes after that', async () => {
    await scenario(t, { ...post, body: { name: 'a' }, expect: 201 })
    const day = 24 * 60 * 60 * 1000
    t.clock.set(t.clock.now() + 29 * day)
    await scenario(t, { ...post, body: { name: 'a' }, expect: 201, events: 0 })
    t.clock.set(t.clock.now() + 2 * day)
    await scenario(t, { ...post, key: 'new', body: { name: 'a' }, expect: 201, events: 1 })
    expect(storedAnswers()).toBe(1)
    await scenario(t, { ...post, body: { name: 'a' }, expect: 201, events: 1 })
  })
})

describe('ETag and If-Match', () => {
  test('reading gives the ETag, a change with it answers the next one', async () => {
    const read = await scenario(t, { as: 'desk', get: '/api/probes/held', expect: 200 })
    expect(read.headers.etag).toBe('"1"')
    const patched = await scenario(t, {
      as: 'technician',
      patch: '/api/probes/held',
      body: { line: 'new' },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(patched.headers.etag).toBe('"2"')
    expect(patched.body).toEqual({ id: 'held', name: 'Held', line: 'new' })
  })

  test.each(['"0"', '"2"', 'W/"1"', '1', '"one"', '"1", "2"'])('%s is not what is there: 412', async ifMatch => {
    await scenario(t, {
      as: 'technician',
      patch: '/api/probes/held',
      body: {},
      ifMatch,
      expect: 412,
      problem: 'stale-edit',
    })
  })

  test('* would overwrite whatever is there: 428', async () => {
    await scenario(t, { as: 'technician', patch: '/api/probes/held', body: {}, ifMatch: '*', expect: 428 })
  })

  test('a patch is RFC 7396: null empties an optional field, and is refused for one that is needed', async () => {
    state.held = { name: 'Held', line: 'x', lines: [{ text: 'a', quantity: 1 }] }
    const patch = { as: 'technician', patch: '/api/probes/held', ifMatch: '"1"' } as const
    await scenario(t, { ...patch, body: { name: null }, expect: 422, fields: ['/name'] })
    const headers = { 'content-type': 'application/merge-patch+json' }
    const reply = await scenario(t, {
      ...patch,
      headers,
      body: { line: null, lines: [{ text: 'b', quantity: 2 }] },
      expect: 200,
    })
    expect(reply.body).toEqual({ id: 'held', name: 'Held', lines: [{ text: 'b', quantity: 2 }] })
  })
})

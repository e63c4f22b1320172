import { expect } from 'vitest'
import type { Role } from '../../src/core/vocabulary.ts'
import type { TestApp } from './app.ts'

/** One request to the API and what must come of it. */
export interface Scenario {
  /** Whose token goes with it; null sends none. */
  as: Role | null
  get?: string
  post?: string
  patch?: string
  put?: string
  /** Sent as JSON; a string or a Buffer goes as it is. */
  body?: unknown
  /** Left out: a key of its own. null sends none. */
  key?: string | null
  ifMatch?: string
  headers?: Record<string, string>
  /** The status that must come. */
  expect: number
  /** The name of the problem that must come. */
  problem?: string
  /** The pointers of the fields that must be named, in any order. */
  fields?: string[]
  /** How many audit events must have been written. Left out: none for a refusal or a GET, not looked at otherwise. */
  events?: number
}

export interface Reply {
  status: number
  headers: Record<string, string>
  // biome-ignore lint/suspicious/noExplicitAny: a test reads members of JSON whose shape it is about to check
  body: any
  text: string
}

let keys = 0

/** A key that no other request has. */
export function freshKey(): string {
  keys += 1
  return `test-key-${keys}`
}

/** Sends it, checks status, problem, fields and events, and returns what came. */
export async function scenario(t: TestApp, wanted: Scenario): Promise<Reply> {
  const [method, url] = methodAndUrl(wanted)
  const before = t.eventCount()
  const reply = await t.app.inject({ method, url, headers: headersOf(t, wanted, method), ...payloadOf(wanted) })
  const text = reply.body
  const isJson = String(reply.headers['content-type'] ?? '').includes('json')
  const result: Reply = {
    status: reply.statusCode,
    headers: reply.headers as Record<string, string>,
    body: isJson && text !== '' ? JSON.parse(text) : undefined,
    text,
  }
  const said = `${method} ${url} answered ${result.status} ${text.slice(0, 800)}`
  expect(result.status, said).toBe(wanted.expect)
  if (wanted.expect >= 400) expect(result.headers['content-type'], said).toBe('application/problem+json; charset=utf-8')
  if (wanted.problem !== undefined) expect(result.body.type, said).toBe(`/problems/${wanted.problem}`)
  if (wanted.fields !== undefined) {
    const pointers = (result.body.errors ?? []).map((error: { pointer: string }) => error.pointer)
    expect([...pointers].sort(), said).toEqual([...wanted.fields].sort())
  }
  const events = wanted.events ?? (wanted.expect >= 400 || method === 'GET' ? 0 : undefined)
  if (events !== undefined) expect(t.eventCount() - before, `events written by ${said}`).toBe(events)
  return result
}

function methodAndUrl({ get, post, patch, put }: Scenario): ['GET' | 'POST' | 'PATCH' | 'PUT', string] {
  if (get !== undefined) return ['GET', get]
  if (post !== undefined) return ['POST', post]
  if (patch !== undefined) return ['PATCH', patch]
  if (put !== undefined) return ['PUT', put]
  throw new Error('A scenario needs get, post, patch or put')
}

function headersOf(t: TestApp, { as, key, ifMatch, headers, body }: Scenario, method: string): Record<string, string> {
  return {
    ...(as !== null && { authorization: `Bearer ${t.tokens[as]}` }),
    ...(method !== 'GET' && key !== null && { 'idempotency-key': key ?? freshKey() }),
    ...(ifMatch !== undefined && { 'if-match': ifMatch }),
    ...(body !== undefined && { 'content-type': 'application/json' }),
    ...headers,
  }
}

function payloadOf({ body }: Scenario): { payload?: string | Buffer } {
  if (body === undefined) return {}
  return { payload: typeof body === 'string' || Buffer.isBuffer(body) ? body : JSON.stringify(body) }
}

/** Sends a form as a browser does. Give `fields` the hidden ones too (`hiddenFields`). */
export async function sendForm(t: TestApp, url: string, cookie: string, fields: [string, string][]) {
  return t.app.inject({
    method: 'POST',
    url,
    headers: { cookie, 'content-type': 'application/x-www-form-urlencoded' },
    payload: new URLSearchParams(fields).toString(),
  })
}

/** The hidden fields of the form that a page sends to `action`, as they would go with it. */
export function hiddenFields(html: string, action: string): [string, string][] {
  const form = html.split('<form').find(part => part.includes(`action="${action}"`))
  if (form === undefined) throw new Error(`The page has no form for ${action}`)
  const inputs = form.split('</form>')[0] ?? ''
  return [...inputs.matchAll(/<input type="hidden" name="([^"]*)" value="([^"]*)">/g)].map(
    ([, name = '', value = '']) => [name, value],
  )
}

/** Every control of that form with what it shows, as a browser would send it untouched. */
export function formFields(html: string, action: string): Record<string, string> {
  const form = html
    .split('<form')
    .find(part => part.includes(`action="${action}"`))
    ?.split('</form>')[0]
  if (form === undefined) throw new Error(`The page has no form for ${action}`)
  const fields: Record<string, string> = {}
  for (const [tag] of form.matchAll(/<input[^>]*>/g)) {
    const name = /name="([^"]*)"/.exec(tag)?.[1]
    const isUnticked = /type="(?:checkbox|radio)"/.test(tag) && !/ checked/.test(tag)
    if (name !== undefined && !isUnticked) fields[name] = unescaped(/value="([^"]*)"/.exec(tag)?.[1] ?? '')
  }
  for (const [, name = '', text = ''] of form.matchAll(/<textarea[^>]*name="([^"]*)"[^>]*>\n?([^<]*)</g))
    fields[name] = unescaped(text)
  for (const [, name = '', options = ''] of form.matchAll(/<select[^>]*name="([^"]*)"[^>]*>(.*?)<\/select>/gs)) {
    const chosen = /value="([^"]*)" selected/.exec(options)?.[1] ?? /value="([^"]*)"/.exec(options)?.[1]
    fields[name] = unescaped(chosen ?? '')
  }
  return fields
}

function unescaped(text: string): string {
  return text
    .replaceAll('&quot;', '"')
    .replaceAll('&#x27;', "'")
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&#x3D;', '=')
    .replaceAll('&amp;', '&')
}

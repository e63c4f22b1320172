import { beforeEach, describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { freshKey } from '../support/http.ts'

/**
 * Every route of the API document, sent what nobody should send: each field in turn is replaced by something odd in a body
 * that otherwise has the right form. Whatever comes back, it is never a fault of the program.
 */

interface Schema {
  $ref?: string
  type?: string
  enum?: unknown[]
  const?: unknown
  format?: string
  anyOf?: Schema[]
  oneOf?: Schema[]
  items?: Schema
  properties?: Record<string, Schema>
  minimum?: number
  exclusiveMinimum?: number
}

interface Operation {
  parameters?: { in: string; name: string; schema: Schema }[]
  requestBody?: { content: Record<string, { schema: Schema }> }
}

interface Document {
  paths: Record<string, Record<string, Operation>>
  components: { schemas: Record<string, Schema> }
}

const ODD_JSON = [
  'null',
  '[]',
  '{}',
  '""',
  '"\\u0000"',
  '"\\ud800"',
  '-1',
  '1e308',
  '9007199254740992',
  '[[["deep"]]]',
  '{"a":1}',
  'true',
]
const ODD_TEXT = ['', '%00', '-1', '1e308', '9999-99-99', '%F0%9F%94%A7', '%27%22%3B--', 'a'.repeat(300)]
const UNKNOWN_IDS = ['00000000-0000-7000-8000-000000000000', '%00', '..%2f..', "';drop"]

function resolved(document: Document, schema: Schema): Schema {
  return schema.$ref === undefined ? schema : (document.components.schemas[schema.$ref.split('/').at(-1) ?? ''] ?? {})
}

/** Something of the right form, though its ids name nothing. */
function sample(document: Document, given: Schema, depth = 0): unknown {
  const schema = resolved(document, given)
  const branch = (schema.anyOf ?? schema.oneOf)?.find(option => option.type !== 'null')
  if (branch !== undefined) return sample(document, branch, depth)
  if (schema.const !== undefined) return schema.const
  if (schema.enum !== undefined) return schema.enum[0]
  if (schema.format === 'date') return '2031-03-01'
  if (schema.format === 'date-time') return '2031-03-01T09:00:00Z'
  if (schema.format === 'email') return 'ann@quillhaven.test'
  if (schema.type === 'integer' || schema.type === 'number') return Math.max(1, schema.minimum ?? 1)
  if (schema.type === 'boolean') return true
  if (schema.type === 'array')
    return depth > 4 || schema.items === undefined ? [] : [sample(document, schema.items, depth + 1)]
  if (schema.type === 'object') {
    const entries = Object.entries(schema.properties ?? {})
    return Object.fromEntries(entries.map(([name, field]) => [name, sample(document, field, depth + 1)]))
  }
  return 'word'
}

function bodies(document: Document, schema: Schema): string[] {
  const whole = sample(document, schema)
  const fields = typeof whole === 'object' && whole !== null && !Array.isArray(whole) ? Object.keys(whole) : []
  const spoilt = fields.flatMap(name =>
    ODD_JSON.map(odd => JSON.stringify({ ...(whole as object), [name]: '\u{1F527}' }).replace('"\u{1F527}"', odd)),
  )
  return [JSON.stringify(whole), '{}', '[]', 'null', '{"nonsense":1}', ...spoilt]
}

const program = eachTestItsApp()
let t: TestApp
beforeEach(async () => {
  t = await program()
})

async function apiDocument(): Promise<Document> {
  return (await t.app.inject('/api/openapi.json')).json()
}

async function faults(requests: { method: string; url: string; payload?: string }[]): Promise<string[]> {
  const found: string[] = []
  for (const { method, url, payload } of requests) {
    const reply = await t.app.inject({
      method: method.toUpperCase() as 'POST',
      url,
      headers: {
        authorization: `Bearer ${t.tokens.owner}`,
        'if-match': '"1"',
        'idempotency-key': freshKey(),
        ...(payload !== undefined && { 'content-type': 'application/json' }),
      },
      ...(payload !== undefined && { payload }),
    })
    if (reply.statusCode >= 500) found.push(`${method} ${url} ${payload ?? ''} -> ${t.errors.at(-1)?.err?.message}`)
  }
  t.errors.splice(0)
  return found
}

function filledIn(path: string, id: string): string {
  return path.replace(/\{[^}]+\}/g, id)
}

describe('no route answers a fault of the program', () => {
  test('whatever the body is', async () => {
    const document = await apiDocument()
    const requests = Object.entries(document.paths).flatMap(([path, operations]) =>
      Object.entries(operations).flatMap(([method, { requestBody }]) =>
        requestBody === undefined
          ? []
          : bodies(document, Object.values(requestBody.content)[0]?.schema ?? {}).map(payload => ({
              method,
              url: filledIn(path, UNKNOWN_IDS[0] ?? ''),
              payload,
            })),
      ),
    )
    expect(requests.length).toBeGreaterThan(500)
    expect(await faults(requests)).toEqual([])
  }, 120_000)

  test('whatever the query and the ids in the path are', async () => {
    const document = await apiDocument()
    const requests = Object.entries(document.paths).flatMap(([path, { get }]) => {
      if (get === undefined) return []
      const query = (get.parameters ?? []).filter(parameter => parameter.in === 'query')
      const asked = query.flatMap(({ name }) =>
        ODD_TEXT.map(odd => `${filledIn(path, UNKNOWN_IDS[0] ?? '')}?${name}=${odd}`),
      )
      const valid = query
        .map(({ name, schema }) => `${name}=${encodeURIComponent(String(sample(document, schema)))}`)
        .join('&')
      return [...UNKNOWN_IDS.map(id => filledIn(path, id)), `${filledIn(path, 'x')}?${valid}`, ...asked].map(url => ({
        method: 'get',
        url,
      }))
    })
    expect(requests.length).toBeGreaterThan(100)
    expect(await faults(requests)).toEqual([])
  }, 120_000)
})

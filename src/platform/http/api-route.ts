import type { FastifyReply, FastifyRequest, RouteOptions } from 'fastify'
import { z } from 'zod'
import { check } from '../check.ts'
import { authorise, type Context, contextFor } from '../context.ts'
import { readAsOne } from '../database/unit-of-work.ts'
import { decode } from '../forms/decode.ts'
import type { Typed } from '../forms/names.ts'
import { shapeWhenNeeded } from '../forms/shape.ts'
import { invalid, problem } from '../problems.ts'
import type { Api, ComputeRoute, Described, ListPage, ListRoute, ParamsOf, ReadRoute, WriteRoute } from './api-types.ts'
import {
  type Answer,
  answerGivenBefore,
  canonicalJson,
  keepingRefusal,
  oncePerKey,
  requestDigest,
} from './idempotency.ts'
import { PROBLEM_ANSWERS } from './problem-answers.ts'
import { etagOf, idempotencyKey, ifMatchVersion } from './request-headers.ts'
import { requireActor } from './session.ts'
import { isMultipart, multipartOf, NO_FILES, refuseCutOff, type TakesFiles } from './uploads.ts'

/**
 * The routes of the JSON API. A capability's api.ts exports `xxxApi(api: Api): void` and lists its routes with
 *
 * - `apiRead`     GET one record or one computed answer
 * - `apiList`     GET a page of records: `{ items, next_cursor }`, `limit` and `cursor`
 * - `apiWrite`    POST, PATCH or PUT: Idempotency-Key, one transaction, stored answer
 * - `apiCompute`  POST that stores nothing: 200, no key
 *
 * `url` is below /api and says its parameters (`/vehicles/:id/odometer-readings`); the handler gets them typed by name.
 * `roles` are who may besides the owner; on reads, leave it out: any login reads. A handler throws Problems and returns
 * `{ record, version?, location? }`; the record is plain JSON as `answer` describes it (an unknown member is a fault: 500).
 * `version` becomes the ETag. Checks come in this order: 401, key missing 400, role 403, body 422, If-Match 428, handler.
 */
export type { Api, ListPage, Outcome, PageAsked, ParamsOf } from './api-types.ts'

const KEY_HEADER = z.object({ 'idempotency-key': z.string().min(1).max(200) })
const KEY_AND_VERSION_HEADERS = KEY_HEADER.extend({ 'if-match': z.string() })

export function apiRead<
  Url extends string,
  Wire extends z.ZodType,
  Query extends z.ZodObject = z.ZodObject<Record<never, never>>,
>(api: Api, route: ReadRoute<Url, Query, Wire>): void {
  const readQuery = queryReader(route.query ?? z.strictObject({}))
  const schema = { ...document(route, 200, route.answer), ...(route.query && { querystring: route.query }) }
  add(api, 'GET', route, schema, async (ctx, request, reply) => {
    const query = readQuery(request) as z.output<Query>
    const input = { params: request.params as ParamsOf<Url>, query }
    const outcome = await readAsOne(ctx, () => route.handle(ctx, input))
    if (outcome.version !== undefined) reply.header('etag', etagOf(outcome.version))
    return json(reply, 200, encoded(route.answer, outcome.record))
  })
}

const PAGING = {
  limit: z.int().min(1).max(500).optional().meta({ description: 'How many; 50 when left out.' }),
  cursor: z.string().max(1000).optional().meta({ description: 'The next_cursor of the page before.' }),
}

export function apiList<
  Url extends string,
  Item extends z.ZodType,
  Query extends z.ZodObject = z.ZodObject<Record<never, never>>,
>(api: Api, route: ListRoute<Url, Query, Item>): void {
  const query = z.strictObject({ ...route.query?.shape, ...PAGING })
  const readQuery = queryReader(query)
  const answer = z.strictObject({ items: z.array(route.item), next_cursor: z.string().nullable() })
  add(api, 'GET', route, { ...document(route, 200, answer), querystring: query }, async (ctx, request, reply) => {
    const { limit, cursor, ...rest } = readQuery(request)
    const page = { limit: limit ?? 50, cursor: cursor === undefined ? null : cursorText(cursor) }
    const input = { params: request.params as ParamsOf<Url>, query: rest as z.output<Query>, page }
    const { items, next } = readAsOne(ctx, () => route.handle(ctx, input))
    const next_cursor = next === null ? null : Buffer.from(next).toString('base64url')
    return json(reply, 200, encoded(answer, { items, next_cursor } as z.input<typeof answer>))
  })
}

/** Ask the database for `limit + 1` rows; this makes the page of them. `cursorOf` is where the next page goes on. */
export function pageOf<Row>(rows: Row[], limit: number, cursorOf: (last: Row) => string): ListPage<Row> {
  const items = rows.slice(0, limit)
  const last = items.at(-1)
  return { items, next: rows.length > limit && last !== undefined ? cursorOf(last) : null }
}

export function apiCompute<Url extends string, Body extends z.ZodType, Wire extends z.ZodType>(
  api: Api,
  route: ComputeRoute<Url, Body, Wire>,
): void {
  add(api, 'POST', route, { ...document(route, 200, route.answer), body: route.body }, async (ctx, request, reply) => {
    const input = { params: request.params as ParamsOf<Url>, body: checkedBody(route.body, request.body ?? {}) }
    return json(reply, 200, encoded(route.answer, await readAsOne(ctx, () => route.handle(ctx, input))))
  })
}

export function apiWrite<Url extends string, Body extends z.ZodType, Wire extends z.ZodType, Prepared = undefined>(
  api: Api,
  route: WriteRoute<Url, Body, Wire, Prepared>,
): void {
  const status = route.status ?? (route.method === 'POST' ? 201 : 200)
  const needsVersion = route.ifMatch ?? route.method !== 'POST'
  const headers = needsVersion ? KEY_AND_VERSION_HEADERS : KEY_HEADER
  const bodyShape = shapeWhenNeeded(route.body)
  const schema = { ...document(route, status, route.answer), ...bodyWith(route.body, route.uploads), headers }
  add(api, route.method, route, schema, async (ctx, request, reply) => {
    const { fields, files } =
      route.uploads && isMultipart(request)
        ? await multipartOf(request, route.uploads)
        : { fields: null, files: NO_FILES }
    refuseCutOff(files, route.uploads)
    const sent = fields === null ? (request.body ?? {}) : decode(fields, bodyShape())
    const digest = requestDigest(
      request.method,
      request.url,
      canonicalJson(sent),
      request.headers['if-match'] ?? null,
      files.digest,
    )
    const keyed = { personId: requireActor(request).id, key: idempotencyKey(request), digest }
    const asked = () => ({
      params: request.params as ParamsOf<Url>,
      body: checkedBody(route.body, sent),
      version: needsVersion ? ifMatchVersion(request) : 0,
      files,
    })
    const answerTo = (input: ReturnType<typeof asked>, prepared: Prepared) => {
      const outcome = route.handle(ctx, { ...input, prepared })
      const location = status === 201 ? (outcome.location ?? locationOf(request, outcome.record)) : null
      const etag = outcome.version === undefined ? null : etagOf(outcome.version)
      return { status, location, etag, body: encoded(route.answer, outcome.record) }
    }
    if (route.prepare === undefined) {
      return sendAnswer(
        reply,
        oncePerKey(ctx, keyed, request.id, () => answerTo(asked(), undefined as Prepared)),
      )
    }
    const before = answerGivenBefore(ctx, keyed)
    if (before !== undefined) return sendAnswer(reply, before)
    const input = keepingRefusal(ctx, keyed, request.id, asked)
    const prepared = await route.prepare(ctx, input)
    return sendAnswer(
      reply,
      oncePerKey(ctx, keyed, request.id, () => answerTo(input, prepared)),
    )
  })
}

type Handler = (ctx: Context, request: FastifyRequest, reply: FastifyReply) => Promise<FastifyReply>

function add(
  api: Api,
  method: 'GET' | 'POST' | 'PATCH' | 'PUT',
  route: Described<string>,
  schema: object,
  handler: Handler,
): void {
  const needsKey = 'headers' in schema
  const takesUploads = 'uploads' in route && route.uploads !== undefined
  const options: RouteOptions = {
    method,
    url: route.url,
    schema,
    onRequest: async request => {
      const actor = requireActor(request)
      if (needsKey) idempotencyKey(request)
      if (route.roles !== undefined) authorise(contextFor(api.deps, actor), ...route.roles)
      if (isMultipart(request) && !takesUploads) throw problem('media-type', { detail: 'Send application/json here.' })
    },
    handler: async (request, reply) => {
      const ctx = contextFor(api.deps, requireActor(request))
      return handler(ctx, request, reply)
    },
  }
  api.app.route(options)
}

/** What the API document says about a route; the zod schemas become JSON Schema in openapi.ts. */
function document(route: Described<string>, status: number, answer: z.ZodType): object {
  const tag = route.url.split('/')[1] ?? ''
  return { tags: [tag], summary: route.summary, response: { [status]: answer, ...PROBLEM_ANSWERS } }
}

/** A body that comes with files is multipart, and the file stands among its fields. */
function bodyWith(body: z.ZodType, takes: TakesFiles | undefined): object {
  if (takes === undefined || !(body instanceof z.ZodObject)) return { body }
  const file = z.string().meta({ contentMediaType: 'application/octet-stream' })
  return { body: body.extend({ [takes.name]: file }), consumes: ['multipart/form-data'] }
}

function queryReader<Query extends z.ZodObject>(schema: Query): (request: FastifyRequest) => z.output<Query> {
  const shape = shapeWhenNeeded(schema)
  return request => checkedBody(schema, decode(request.query as Typed, shape()))
}

function checkedBody<Schema extends z.ZodType>(schema: Schema, input: unknown): z.output<Schema> {
  const checked = check(schema, input)
  if (checked.ok) return checked.value
  const fields = checked.errors.map(error =>
    error.pointer === '' ? error.detail : `${error.pointer}: ${error.detail}`,
  )
  throw problem('invalid-input', { detail: fields.slice(0, 5).join(' '), errors: checked.errors })
}

/** An answer that its contract does not describe is a fault of the program, and nothing of it goes out. */
function encoded<Wire extends z.ZodType>(answer: Wire, record: z.input<Wire>): string {
  const result = answer.safeParse(record)
  if (!result.success) throw new Error(`An answer does not match its contract: ${z.prettifyError(result.error)}`)
  return JSON.stringify(result.data)
}

function cursorText(cursor: string): string {
  const text = Buffer.from(cursor, 'base64url').toString()
  const isOurs = text !== '' && Buffer.from(text).toString('base64url') === cursor
  if (isOurs) return text
  throw invalid({
    pointer: '/cursor',
    detail: 'This must be the next_cursor of the page before, unchanged.',
    code: 'invalid_cursor',
  })
}

function locationOf(request: FastifyRequest, record: unknown): string | null {
  const id = (record as { id?: unknown }).id
  return typeof id === 'string' ? `${request.url.split('?')[0]}/${encodeURIComponent(id)}` : null
}

function json(reply: FastifyReply, status: number, body: string): FastifyReply {
  return reply.code(status).header('content-type', 'application/json').send(body)
}

function sendAnswer(reply: FastifyReply, answer: Answer): FastifyReply {
  if (answer.location !== null) reply.header('location', answer.location)
  if (answer.etag !== null) reply.header('etag', answer.etag)
  const type = answer.status >= 400 ? 'application/problem+json' : 'application/json'
  return reply.code(answer.status).header('content-type', type).send(answer.body)
}

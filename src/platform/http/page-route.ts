import type { FastifyRequest } from 'fastify'
import { z } from 'zod'
import { nameKey } from '../../core/name-key.ts'
import type { Role } from '../../core/vocabulary.ts'
import { check } from '../check.ts'
import type { Context } from '../context.ts'
import { readAsOne } from '../database/unit-of-work.ts'
import { decode } from '../forms/decode.ts'
import { filledRows } from '../forms/filled-rows.ts'
import type { Typed } from '../forms/names.ts'
import { namesChosen } from '../forms/new-names.ts'
import { type Shape, shapeWhenNeeded } from '../forms/shape.ts'
import { workingPage } from '../pages/working.ts'
import { Problem, problem } from '../problems.ts'
import { StillWorking } from '../workers/analysed.ts'
import type { ParamsOf } from './api-route.ts'
import { type Again, type FormState, filledForm, freshForm, redrawnForm, stateAfter } from './form-state.ts'
import { canonicalJson, onlyOnce, requestDigest } from './idempotency.ts'
import { asPerson, type PageAnswer, type Pages, pageContext, redirect, sendPage } from './pages.ts'
import { type Files, isMultipart, multipartOf, NO_FILES, refuseCutOff, type TakesFiles } from './uploads.ts'

/**
 * The HTML routes. A capability's pages.ts exports `xxxPages(pages: Pages): void` and lists its routes with
 *
 * - `pageRead`  GET a page
 * - `pageForm`  GET a page with its form, and POST of that form to the same address
 * - `pagePost`  POST only: a further form of a page, or a button that does something in one tap; list it after the pageRead
 *   of the same address, if there is one
 *
 * A handler answers `{ template, sheet, view }` (see pages.ts) or, from a form, `{ to, notice? }`: 303 to a page that says
 * the notice once. A form carries `{{> form-key}}`; sending it twice does it once. What the contract or the service refuses
 * (409, 412, 422, and 413 and 415 for a file) comes back on the same page, with the summary and everything as it was typed. A submit button named
 * `_again` only asks for the page once more as it is typed (more rows, a drawing): nothing is checked, nothing is stored.
 * `roles` are who may besides the owner; left out: any login.
 */
export interface ReadPage<Url extends string, Query extends z.ZodObject> {
  url: Url
  roles?: Role[]
  /** Parameters that the page understands; others are ignored. */
  query?: Query
  /** `origin` is where this page was asked for, without a path: for an address on paper. */
  handle(
    ctx: Context,
    input: { params: ParamsOf<Url>; query: z.output<Query>; origin: string },
  ): PageAnswer | Redirect | Promise<PageAnswer | Redirect>
  /** The page of a question that cannot be answered (422), with the form that asked it. Left out: a page that says so. */
  refused?(ctx: Context, input: { params: ParamsOf<Url>; form: FormState }): PageAnswer
}

export interface Redirect {
  to: string
}

export interface Done extends Redirect {
  /** Said once on the next page: 'Taken in as 2031-0231.' */
  notice?: string
}

export interface SubmitInput<Url extends string> {
  params: ParamsOf<Url>
  /** The version that the form was drawn from; -1 when it says none. */
  version: number
  files: Files
  /** The keys of names that the form makes and somebody has called new: see forms/new-names.ts. */
  new_names: ReadonlySet<string>
}

interface Submits<Url extends string, Contract extends z.ZodType, Prepared> {
  url: Url
  roles?: Role[]
  contract: Contract
  /** Takes files beside the fields: the form has `enctype="multipart/form-data"`. */
  uploads?: TakesFiles
  /** What must not run inside the transaction: hashing, pictures. */
  prepare?(ctx: Context, input: z.output<Contract>, more: SubmitInput<Url>): Promise<Prepared>
  /** Runs inside one transaction with its event and the form's key. Synchronous. */
  submit(ctx: Context, input: z.output<Contract>, more: SubmitInput<Url> & { prepared: Prepared }): Done
}

/** What an edit form, or one that already knows something, begins with. */
export interface Initial {
  /** As the contract has it; may be incomplete. */
  values?: object
  /** Of the record that is edited: travels with the form, so that nobody overwrites what somebody else wrote. */
  version?: number
}

export interface FormPage<Url extends string, Contract extends z.ZodType, Prepared>
  extends Submits<Url, Contract, Prepared> {
  initial?(ctx: Context, input: { params: ParamsOf<Url>; query: Typed }): Initial
  page(ctx: Context, input: { params: ParamsOf<Url>; query: Typed; form: FormState }): PageAnswer
}

export interface PostRoute<Url extends string, Contract extends z.ZodType, Prepared>
  extends Submits<Url, Contract, Prepared> {
  /** The page on which the form stands, to show it again with what is wrong. Left out: a page that says so. */
  page?(ctx: Context, input: { params: ParamsOf<Url>; query: Typed; form: FormState }): PageAnswer
}

export function pageRead<Url extends string, Query extends z.ZodObject = z.ZodObject<Record<never, never>>>(
  pages: Pages,
  route: ReadPage<Url, Query>,
): void {
  const schema = route.query ?? z.strictObject({})
  const shape = shapeWhenNeeded(schema)
  pages.app.get(route.url, { onRequest: asPerson(pages, route.roles) }, async (request, reply) => {
    const known = Object.entries(request.query as Typed).filter(([name]) => shape().fields.has(name))
    const typed: Typed = Object.fromEntries(known)
    const ctx = { ...pageContext(pages, request), ...(isLookedAt(request) && { patience_ms: PATIENCE_MS }) }
    const params = request.params as ParamsOf<Url>
    try {
      const query = checked(schema, decode(typed, shape())) as z.output<Query>
      const origin = `${request.protocol}://${request.host}`
      const answer = await readAsOne(ctx, () => route.handle(ctx, { params, query, origin }))
      return 'to' in answer ? redirect(reply, answer.to) : sendPage(pages, request, reply, answer)
    } catch (error) {
      if (error instanceof StillWorking) return sendPage(pages, request, reply, workingPage(error.progress))
      const refusal = refusalOf(error)
      if (refusal?.status !== 422 || route.refused === undefined) throw error
      const form = filledForm(shape(), pages.habits(), typed, stateAfter(shape(), refusal, -1))
      return sendPage(pages, request, reply, route.refused(ctx, { params, form }), 422, form.parts)
    }
  })
}

/** Somebody in front of a browser wants to see what goes on; a program that reads the page wants the page. */
const PATIENCE_MS = 2000

function isLookedAt(request: FastifyRequest): boolean {
  return request.headers['sec-fetch-mode'] === 'navigate'
}

export function pageForm<Url extends string, Contract extends z.ZodType, Prepared = undefined>(
  pages: Pages,
  route: FormPage<Url, Contract, Prepared>,
): void {
  const shape = shapeWhenNeeded(route.contract)
  pages.app.get(route.url, { onRequest: asPerson(pages, route.roles) }, async (request, reply) => {
    const ctx = pageContext(pages, request)
    const input = { params: request.params as ParamsOf<Url>, query: request.query as Typed }
    const { form, answer } = readAsOne(ctx, () => {
      const fresh = freshForm(shape(), pages.habits(), route.initial?.(ctx, input) ?? {})
      return { form: fresh, answer: route.page(ctx, { ...input, form: fresh }) }
    })
    return sendPage(pages, request, reply, answer, 200, form.parts)
  })
  takePost(pages, route)
}

export function pagePost<Url extends string, Contract extends z.ZodType, Prepared = undefined>(
  pages: Pages,
  route: PostRoute<Url, Contract, Prepared>,
): void {
  // a refused form stands at its own address: whoever asks for that again gets the page it belongs to, one folder up
  if (!pages.app.hasRoute({ method: 'GET', url: route.url })) {
    pages.app.get(route.url, { onRequest: asPerson(pages) }, async (request, reply) =>
      redirect(reply, request.url.replace(/\?.*$/, '').replace(/\/[^/]+$/, '') || '/'),
    )
  }
  takePost(pages, route)
}

function takePost<Url extends string, Contract extends z.ZodType, Prepared>(
  pages: Pages,
  route: PostRoute<Url, Contract, Prepared> & Partial<Pick<FormPage<Url, Contract, Prepared>, 'initial'>>,
): void {
  const shape = shapeWhenNeeded(route.contract)
  pages.app.post(route.url, { onRequest: asPerson(pages, route.roles) }, async (request, reply) => {
    const ctx = pageContext(pages, request)
    const sent = await formSent(request, shape(), pages, route.uploads)
    const where = { params: request.params as ParamsOf<Url>, query: request.query as Typed }
    const more = {
      ...{ params: where.params, version: sent.version, files: sent.files },
      new_names: new Set(sent.new_names.map(nameKey)),
    }
    if (sent.again !== null && route.page !== undefined) {
      const form = redrawnForm(shape(), pages.habits(), sent.typed, sent.version, sent.again)
      return sendPage(pages, request, reply, route.page(ctx, { ...where, form }), 200, form.parts)
    }
    try {
      refuseCutOff(sent.files, route.uploads)
      const input = checked(route.contract, sent.value)
      const prepared = (await route.prepare?.(ctx, input, more)) as Prepared
      const answer = onlyOnce(ctx, keyOf(request, sent), tx => {
        const { to, notice } = route.submit(ctx, input, { ...more, prepared })
        if (notice !== undefined && request.session) pages.putNotice(ctx, tx, request.session.id, notice)
        return { status: 303, location: to, etag: null, body: null }
      })
      return redirect(reply, answer.location ?? '/')
    } catch (error) {
      const refusal = refusalOf(error)
      if (refusal === null || route.page === undefined) throw error
      const now = refusal.type === 'stale-edit' ? route.initial?.(ctx, where).version : undefined
      const form = filledForm(shape(), pages.habits(), sent.typed, {
        ...stateAfter(shape(), refusal, now ?? sent.version),
        new_names: sent.new_names,
      })
      return sendPage(pages, request, reply, route.page(ctx, { ...where, form }), refusal.status, form.parts)
    }
  })
}

/** The refusals that a person puts right on the form itself. */
function refusalOf(error: unknown): Problem | null {
  return error instanceof Problem && [409, 412, 413, 415, 422].includes(error.status) ? error : null
}

interface FormSent {
  typed: Typed
  again: Again | null
  value: unknown
  key: string
  version: number
  files: Files
  new_names: string[]
}

async function formSent(
  request: FastifyRequest,
  shape: Shape,
  pages: Pages,
  takes: TakesFiles | undefined,
): Promise<FormSent> {
  const { fields, files } = isMultipart(request)
    ? await multipartOf(request, takes)
    : { fields: { ...(request.body as Typed | undefined) }, files: NO_FILES }
  const { _key, _version, _again, ...rest } = fields
  const { given, new_names } = namesChosen(rest)
  const typed = filledRows(given, shape)
  const key = [_key].flat()[0]?.trim() ?? ''
  if (key === '' || key.length > 100) {
    throw problem('idempotency-key-missing', {
      detail:
        'The form came without the hidden key that was drawn with it. Open the page again and send it from there.',
    })
  }
  const version = /^\d{1,15}$/.test(String(_version)) ? Number(_version) : -1
  const value = decode(typed, shape, { habits: pages.habits(), unticked: true })
  const again = _again === undefined ? null : { button: [_again].flat()[0] ?? '', value }
  return { typed, again, value, key, version, files, new_names }
}

/** One key serves all forms of a page: each address has its own. */
function keyOf(request: FastifyRequest, sent: FormSent) {
  const path = request.url.split('?')[0] ?? ''
  const digest = requestDigest(
    'form',
    path,
    canonicalJson(sent.value),
    String(sent.version),
    sent.files.digest,
    sent.new_names.join('\n'),
  )
  return { personId: request.actor?.id ?? '', key: `form ${sent.key} ${path}`, digest }
}

function checked<Schema extends z.ZodType>(schema: Schema, input: unknown): z.output<Schema> {
  const result = check(schema, input)
  if (result.ok) return result.value
  throw problem('invalid-input', { detail: 'Some of it needs putting right.', errors: result.errors })
}

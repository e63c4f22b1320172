import { randomUUID } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Role } from '../../core/vocabulary.ts'
import { authorise, type Context, contextFor, type Deps } from '../context.ts'
import type { Tx } from '../database/types.ts'
import type { Habits } from '../forms/decode.ts'
import type { ErrorSummaryView } from '../pages/field.ts'
import { type PageBase, pageView, type Sheet } from '../pages/page-view.ts'
import type { Renderer } from '../pages/renderer.ts'
import { PROBLEMS } from '../problem-catalogue.ts'
import { type Problem, problem } from '../problems.ts'
import { noteProblem, problemFrom } from './errors.ts'

/** What every page route needs; made once in app.ts and handed to each capability's `xxxPages(pages)`. */
export interface Pages {
  app: FastifyInstance
  deps: Deps
  renderer: Renderer
  /** House, signed-in person, asset folder and the notice to say once. */
  base(request: FastifyRequest): PageBase
  /** How the workshop writes money and time. */
  habits(): Habits
  /** Leaves a sentence to be said on the next page of this session; null takes it away. */
  putNotice(ctx: Context, tx: Tx, session: string, text: string | null): void
}

/** One page: a template, what it says about its sheet, and its view model (plain strings and flags). */
export interface PageAnswer {
  template: string
  sheet: Sheet
  view: object
}

/** What a page with a form gets besides its own view: `key`, `version` and `error_summary` stand in every view. */
export interface FormParts {
  key: string
  version: number | null
  /** Names on it that somebody has called new: they are not asked about again. */
  new_names: string[]
  error_summary: ErrorSummaryView | null
}

/**
 * Every view gets: `page` (the frame), `key` (the hidden `_key` of every form on it), `version` (the hidden `_version` of an
 * edit form, or null), `new_names`, `error_summary` (or null). `{{> form-key}}` prints the hidden fields.
 */
export function sendPage(
  pages: Pages,
  request: FastifyRequest,
  reply: FastifyReply,
  answer: PageAnswer,
  status = 200,
  parts: FormParts = { key: newFormKey(), version: null, new_names: [], error_summary: null },
): FastifyReply {
  const sheet = { ...answer.sheet, error: answer.sheet.error ?? parts.error_summary !== null }
  const html = pages.renderer.render(answer.template, {
    ...answer.view,
    ...parts,
    page: pageView(pages.base(request), sheet),
  })
  // a browser that goes back to what came of a form cannot ask for it again: it shows what it kept, or says that it has nothing
  const isRefusedForm = request.method === 'POST' && status >= 400
  return reply
    .code(status)
    .header('content-type', 'text/html; charset=utf-8')
    .header('cache-control', isRefusedForm ? 'private, no-cache' : 'no-store')
    .send(Buffer.from(html))
}

/** Drawn with the form, so that a second click sends the same one. */
export function newFormKey(): string {
  return randomUUID()
}

export function redirect(reply: FastifyReply, to: string): FastifyReply {
  return reply.code(303).header('location', to).send('')
}

/** The context of a page's use case. Only after `asPerson` let the request through. */
export function pageContext(pages: Pages, request: FastifyRequest): Context {
  return contextFor(pages.deps, request.actor)
}

/**
 * An onRequest hook: somebody is signed in, with a password of their own and one of the roles (left out: any login).
 * A page sends to the login and back; a form that was filled in is not thrown away: it is refused where it stands.
 */
export function asPerson(
  pages: Pages,
  roles?: Role[],
): (request: FastifyRequest, reply: FastifyReply) => Promise<unknown> {
  return async (request, reply) => {
    if (request.actor === null) {
      if (request.method === 'GET' || request.method === 'HEAD') {
        return redirect(reply, `/login?next=${encodeURIComponent(request.url)}`)
      }
      throw problem('not-signed-in', {
        detail: 'You were signed out. Sign in on another tab, come back to this one and send it again.',
      })
    }
    if (request.session?.must_change_password) return redirect(reply, '/password')
    if (roles !== undefined) authorise(contextFor(pages.deps, request.actor), ...roles)
    return undefined
  }
}

/** The error handler of everything outside /api: what happened, what was not saved, and the request id. */
export function sendPageProblem(
  pages: Pages,
  error: unknown,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  const refusal = problemFrom(error)
  noteProblem(error, refusal, request, reply)
  const wasSent = request.method !== 'GET' && request.method !== 'HEAD'
  const answer = {
    template: 'errors/problem',
    sheet: { title: refusal.title },
    view: {
      what: refusal.more.detail,
      not_saved: wasSent ? 'what you sent with this page.' : null,
      do_next: helpOnPage(refusal),
      // whoever asked for what is not there needs no number
      request_id: refusal.status >= 500 || wasSent ? request.id : null,
      actions: [],
    },
  }
  return sendPage(pages, request, reply, answer, refusal.status)
}

/** The help of a bad input is about the fields of a problem document; a page has said it all. */
function helpOnPage({ type, more }: Problem): string | null {
  const { help } = PROBLEMS[type]
  return type === 'invalid-input' || help === more.detail ? null : help
}

import '@fastify/cookie'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import type { Actor } from '../context.ts'
import { problem } from '../problems.ts'

/** A browser that is signed in. */
export interface Session {
  id: string
  actor: Actor
  /** The password was given by somebody else: nothing may be done before it is changed. */
  must_change_password: boolean
  /** Said once, on the next page. */
  notice: string | null
}

declare module 'fastify' {
  interface FastifyRequest {
    /** Who asks: by the session's cookie, or under /api also by a bearer token. */
    actor: Actor | null
    session: Session | null
  }
}

/** Looks secrets up; given by the accounts capability through app.ts. */
export interface Doorkeeper {
  sessionOf(secret: string): Session | null
  actorOfToken(token: string): Actor | null
}

/** 30 days: a tablet on the bench is not asked for a password in the middle of a job. */
const SESSION_SECONDS = 30 * 24 * 60 * 60

/** A Secure cookie would block the same name over http, so http and https have a name each. */
function cookieName(request: FastifyRequest): string {
  return request.protocol === 'https' ? 'witness_mark_tls' : 'witness_mark'
}

export function setSessionCookie(request: FastifyRequest, reply: FastifyReply, secret: string): void {
  reply.setCookie(cookieName(request), secret, {
    path: '/',
    httpOnly: true,
    sameSite: 'lax',
    secure: request.protocol === 'https',
    maxAge: SESSION_SECONDS,
  })
}

export function clearSessionCookie(request: FastifyRequest, reply: FastifyReply): void {
  reply.clearCookie(cookieName(request), { path: '/' })
}

function sessionSecret(request: FastifyRequest): string | undefined {
  return request.cookies[cookieName(request)]
}

export function decorateRequests(app: FastifyInstance): void {
  app.decorateRequest('actor', null)
  app.decorateRequest('session', null)
}

/** The page scope: the cookie says who asks. Pages that need nobody are asked for by nobody. */
export function seeSession(door: Doorkeeper): (request: FastifyRequest) => Promise<void> {
  return async request => {
    const secret = sessionSecret(request)
    if (secret === undefined) return
    request.session = door.sessionOf(secret)
    request.actor = request.session?.actor ?? null
  }
}

/** The /api scope: a bearer token, or the cookie of a page's own script. A token that is sent must be good. */
export function seeTokenOrSession(door: Doorkeeper): (request: FastifyRequest) => Promise<void> {
  return async request => {
    const { authorization } = request.headers
    if (authorization === undefined) {
      const secret = sessionSecret(request)
      request.session = secret === undefined ? null : door.sessionOf(secret)
      if (request.session !== null && !request.session.must_change_password) request.actor = request.session.actor
      return
    }
    const token = /^Bearer +([A-Za-z0-9._~+/=-]+)$/i.exec(authorization)?.[1]
    request.actor = token === undefined ? null : door.actorOfToken(token)
  }
}

export function requireActor(request: FastifyRequest): Actor {
  if (request.actor !== null) return request.actor
  const detail =
    request.session?.must_change_password === true
      ? 'Change the one-time password on the pages first.'
      : request.headers.authorization === undefined
        ? 'Send Authorization: Bearer <token>.'
        : 'The token in Authorization is not known here.'
  throw problem('not-signed-in', { detail })
}

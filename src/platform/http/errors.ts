import type { FastifyReply, FastifyRequest } from 'fastify'
import { problemFromSqlite } from '../database/sqlite-problems.ts'
import { PROBLEMS, type ProblemName } from '../problem-catalogue.ts'
import { Problem, problem } from '../problems.ts'

const INTERNAL = {
  detail: 'Something went wrong in the program. Nothing was saved. The request id finds it in the log.',
}

/** What fastify and its plugins refuse by themselves, in our catalogue. */
const BY_STATUS: Record<number, ProblemName> = {
  413: 'body-too-large',
  415: 'media-type',
  416: 'no-such-range',
  429: 'too-many-requests',
}

const DETAILS: Record<string, string> = {
  FST_ERR_CTP_INVALID_JSON_BODY: 'The body is not valid JSON.',
  FST_ERR_CTP_EMPTY_JSON_BODY: 'The body is empty, but its content type says JSON.',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'The body is not as long as its Content-Length says.',
  FST_ERR_BAD_URL: 'The address is not well formed: a % must be followed by two hexadecimal digits of valid UTF-8.',
  FST_ERR_MAX_PARAM_LENGTH: 'A part of the address is too long to name anything here.',
  FST_REQ_FILE_TOO_LARGE: 'The file is too large.',
}

/** Every error as an entry of the catalogue. What we do not know is `internal`, and says nothing about its cause. */
export function problemFrom(error: unknown): Problem {
  if (error instanceof Problem) return error
  const fromDatabase = problemFromSqlite(error)
  if (fromDatabase !== null) return fromDatabase
  if (!(error instanceof Error)) return problem('internal', INTERNAL)
  const { statusCode, code = '' } = error as Error & { statusCode?: number; code?: string }
  if (code === 'FST_ERR_MAX_PARAM_LENGTH') return problem('not-found', { detail: DETAILS[code] ?? '' })
  if (statusCode === undefined || statusCode < 400 || statusCode >= 500) return problem('internal', INTERNAL)
  const name = BY_STATUS[statusCode] ?? 'not-readable'
  const detail = DETAILS[code] ?? (name === 'not-readable' ? 'The body is not valid JSON.' : PROBLEMS[name].help)
  return problem(name, { detail })
}

/** The document of RFC 9457. `instance` is the request id, by which the log can be searched. */
export function problemDocument(refusal: Problem, instance: string) {
  return {
    type: `/problems/${refusal.type}`,
    title: refusal.title,
    status: refusal.status,
    detail: refusal.more.detail,
    instance,
    ...(refusal.more.errors && { errors: refusal.more.errors }),
    ...refusal.more.extra,
  }
}

/** Headers that belong to a status, and the log line that an unknown error must leave. */
export function noteProblem(error: unknown, refusal: Problem, request: FastifyRequest, reply: FastifyReply): void {
  if (refusal.status >= 500) request.log.error({ err: error, reqId: request.id }, refusal.title)
  if (refusal.status === 401) reply.header('www-authenticate', 'Bearer')
  if (refusal.status === 503) reply.header('retry-after', '1')
}

/** The error handler of /api. */
export function sendApiProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const refusal = problemFrom(error)
  noteProblem(error, refusal, request, reply)
  return reply
    .code(refusal.status)
    .header('content-type', 'application/problem+json')
    .send(JSON.stringify(problemDocument(refusal, request.id)))
}

import type { FastifyInstance, FastifyRequest } from 'fastify'
import { problem } from '../problems.ts'

/** Deeper than anything a contract describes; what is deeper still would exhaust the stack when it is written out again. */
const MAX_DEPTH = 32

/** The bodies that /api takes: application/json, and application/merge-patch+json (RFC 7396). */
export function takeJson(app: FastifyInstance): void {
  const parse = app.getDefaultJsonParser('error', 'ignore')
  app.removeAllContentTypeParsers()
  app.addContentTypeParser(
    ['application/json', 'application/merge-patch+json'],
    { parseAs: 'string' },
    (request: FastifyRequest, text: string, done: (error: Error | null, body?: unknown) => void) => {
      // a body that is left out counts as {} where the contract allows it
      if (text === '') {
        done(null, undefined)
        return
      }
      parse(request, text, (error, body) => {
        if (error !== null) done(problem('not-readable', { detail: `The body is not valid JSON: ${error.message}` }))
        else if (isTooDeep(body))
          done(problem('not-readable', { detail: `The body is nested more than ${MAX_DEPTH} deep.` }))
        else done(null, body)
      })
    },
  )
}

function isTooDeep(body: unknown): boolean {
  let level: unknown[] = [body]
  for (let depth = 0; depth <= MAX_DEPTH; depth++) {
    level = level.flatMap(value => (typeof value === 'object' && value !== null ? Object.values(value) : []))
    if (level.length === 0) return false
  }
  return true
}

import type { FastifyInstance, FastifyRequest } from 'fastify'
import { invalid, problem } from '../problems.ts'

/** Deeper than anything a contract describes; what is deeper still would exhaust the stack when it is written out again. */
const MAX_DEPTH = 32

const NULL_BODY = 'The body is null. Send an object, or leave the body out where nothing is needed.'
const UTF8 = new TextDecoder('utf-8', { fatal: true })

/** The bodies that /api takes: application/json, and application/merge-patch+json (RFC 7396). */
export function takeJson(app: FastifyInstance): void {
  const parse = app.getDefaultJsonParser('error', 'ignore')
  app.removeAllContentTypeParsers()
  app.addContentTypeParser(
    ['application/json', 'application/merge-patch+json'],
    { parseAs: 'buffer' },
    (request: FastifyRequest, bytes: Buffer, done: (error: Error | null, body?: unknown) => void) => {
      const text = asText(bytes)
      if (text === null) {
        done(problem('not-readable', { detail: 'The body is not UTF-8 text. Send JSON in UTF-8.' }))
        return
      }
      // a body that is left out counts as {} where the contract allows it
      if (text === '') {
        done(null, undefined)
        return
      }
      parse(request, text, (error, body) => {
        if (error !== null) done(problem('not-readable', { detail: `The body is not valid JSON: ${error.message}` }))
        // past here null means that there was no body
        else if (body === null) done(invalid({ pointer: '', detail: NULL_BODY, code: 'invalid_type' }))
        else if (isTooDeep(body))
          done(problem('not-readable', { detail: `The body is nested more than ${MAX_DEPTH} deep.` }))
        else done(null, body)
      })
    },
  )
}

/** Read leniently, a wrong byte would be kept as a question mark. */
function asText(bytes: Buffer): string | null {
  try {
    return UTF8.decode(bytes)
  } catch {
    return null
  }
}

function isTooDeep(body: unknown): boolean {
  let level: unknown[] = [body]
  for (let depth = 0; depth <= MAX_DEPTH; depth++) {
    level = level.flatMap(value => (typeof value === 'object' && value !== null ? Object.values(value) : []))
    if (level.length === 0) return false
  }
  return true
}

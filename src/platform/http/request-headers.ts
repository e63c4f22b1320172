import type { FastifyRequest } from 'fastify'
import { PROBLEMS } from '../problem-catalogue.ts'
import { problem } from '../problems.ts'

const LONGEST_KEY = 200

/** The key of a write. 400 when it is missing or too long to keep. */
export function idempotencyKey(request: FastifyRequest): string {
  const header = request.headers['idempotency-key']
  const key = (Array.isArray(header) ? header.join(',') : (header ?? '')).trim()
  if (key === '') throw problem('idempotency-key-missing', { detail: PROBLEMS['idempotency-key-missing'].help })
  if (key.length > LONGEST_KEY) {
    throw problem('not-readable', {
      detail: `The Idempotency-Key has ${key.length} characters; at most ${LONGEST_KEY} are kept.`,
    })
  }
  return key
}

export function etagOf(version: number): string {
  return `"${version}"`
}

/** No version of any record. */
const NO_VERSION = -1

/**
 * The version that the person read, from If-Match: 428 without it. `*` would overwrite whatever is there, which is what the
 * header is asked for to prevent: 428 too. A tag that is not one of ours matches nothing: the service says 412.
 */
export function ifMatchVersion(request: FastifyRequest): number {
  const header = request.headers['if-match']?.trim()
  if (header === undefined || header === '' || header === '*') {
    throw problem('if-match-missing', { detail: 'Send If-Match with the ETag of the record as you read it.' })
  }
  const digits = /^"(0|[1-9]\d{0,14})"$/.exec(header)?.[1]
  return digits === undefined ? NO_VERSION : Number(digits)
}

import type { Context } from '../context.ts'
import { sha256 } from '../database/row-hash.ts'
import { findStoredAnswer, keepAnswer, type StoredAnswer } from '../database/stored-answers.ts'
import type { Tx } from '../database/types.ts'
import { write } from '../database/unit-of-work.ts'
import { problem } from '../problems.ts'
import { problemDocument, problemFrom } from './errors.ts'

/** An answer as it goes out, and as it is kept. */
export type Answer = Omit<StoredAnswer, 'request_sha256'>

/** Whose key it is, and the digest of what was asked with it. */
export interface KeyedRequest {
  personId: string
  key: string
  digest: string
}

/**
 * Refusals that judged what was sent are answers too: a repeat gets them again. Not so what never got that far
 * (400, 401, 403, 413, 415, 428), what may go better later (408, 429, 5xx), or the refusal of the key itself.
 */
const KEPT_REFUSALS = new Set([404, 409, 412, 422])

/** The same text for the same JSON, whatever the order of members. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_name, member: unknown) => {
    if (typeof member !== 'object' || member === null || Array.isArray(member)) return member
    return Object.fromEntries(Object.entries(member).sort(([a], [b]) => (a < b ? -1 : 1)))
  })
}

export function requestDigest(...parts: (string | null)[]): string {
  return sha256(JSON.stringify(parts))
}

/** The answer given before to this key, or undefined. Throws `key-reused` when the key stood before something else. */
export function answerGivenBefore(ctx: Context, request: KeyedRequest): Answer | undefined {
  const stored = findStoredAnswer(ctx.read, request.personId, request.key)
  if (stored === undefined) return undefined
  if (stored.request_sha256 !== request.digest) {
    throw problem('key-reused', {
      detail: 'This key came before with another request. Nothing was saved now. Use a new key for a new write.',
    })
  }
  const { request_sha256: _, ...answer } = stored
  return answer
}

/**
 * Runs `work` at most once for a key. Its rows, its event, the key and the answer are one transaction, so a lost answer can
 * be asked for again and is the same.
 */
export function onlyOnce(ctx: Context, request: KeyedRequest, work: (tx: Tx) => Answer): Answer {
  return write(ctx, tx => {
    const before = answerGivenBefore(ctx, request)
    if (before !== undefined) return before
    const answer = work(tx)
    keepAnswer(ctx, tx, request.personId, request.key, { ...answer, request_sha256: request.digest })
    return answer
  })
}

/** `onlyOnce` for the API: a refusal that judged the content is an answer too; it is kept after the rollback and thrown on. */
export function oncePerKey(ctx: Context, request: KeyedRequest, instance: string, work: (tx: Tx) => Answer): Answer {
  return keepingRefusal(ctx, request, instance, () => onlyOnce(ctx, request, work))
}

/** What `work` answers; a refusal that judged the content is kept under the key, and thrown on. */
export function keepingRefusal<T>(ctx: Context, request: KeyedRequest, instance: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    keepRefusal(ctx, request, instance, error)
    throw error
  }
}

/** Keeps a refusal under its key, in a transaction of its own. */
function keepRefusal(ctx: Context, request: KeyedRequest, instance: string, error: unknown): void {
  const refusal = problemFrom(error)
  if (refusal.type === 'key-reused' || !KEPT_REFUSALS.has(refusal.status)) return
  const answer = {
    status: refusal.status,
    location: null,
    etag: null,
    body: JSON.stringify(problemDocument(refusal, instance)),
    request_sha256: request.digest,
  }
  write(ctx, tx => {
    if (findStoredAnswer(tx, request.personId, request.key) === undefined) {
      keepAnswer(ctx, tx, request.personId, request.key, answer)
    }
  })
}

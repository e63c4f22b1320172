import { createHash, randomBytes } from 'node:crypto'

/**
 * Secrets are the one thing that must not come from a source that can be wound back, so they do not come in through the
 * context: a session or a token that somebody can predict is none.
 */
export function newSecret(bytes = 32): string {
  return randomBytes(bytes).toString('base64url')
}

/** What the database keeps of a secret: the file alone opens nothing. */
export function secretDigest(secret: string): string {
  return createHash('sha256').update(secret).digest('hex')
}

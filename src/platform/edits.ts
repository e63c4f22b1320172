import { problem } from './problems.ts'

type Json = Record<string, unknown>

function isObject(value: unknown): value is Json {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/**
 * RFC 7396: what the patch names replaces what was there, null removes it, objects are merged, lists are replaced whole.
 * `current` is the record as it would be sent (no nulls); the result is again such a record. Changes neither argument.
 */
export function mergePatch<T extends object>(current: T, patch: object): T {
  return merged(current as Json, patch as Json) as T
}

function merged(current: Json, patch: Json): Json {
  const result: Json = { ...current }
  for (const [name, value] of Object.entries(patch)) {
    if (value === null) delete result[name]
    else if (isObject(value)) result[name] = merged(isObject(result[name]) ? result[name] : {}, value)
    else if (value !== undefined) result[name] = value
  }
  return result
}

/** 412 unless the record still has the version that the person read. Call it inside the transaction, after the look-up. */
export function requireVersion(actual: number, expected: number): void {
  if (actual === expected) return
  throw problem('stale-edit', {
    detail: `This record is now at version ${actual}; your change was made from another one. Read it again first.`,
    extra: { current_etag: `"${actual}"` },
  })
}

import type { Store } from '../database/open.ts'

interface Kept {
  key: string
  value: unknown
}

const KEPT = new WeakMap<Store, Map<string, Kept>>()

/**
 * What was worked out before from the same database, while its key is the same; else worked out now and kept. One result a
 * name. A key must say everything that the result depends on: the day, the newest event, the question.
 */
export function kept<T>(store: Store, name: string, key: string, workOut: () => T): T {
  const results = KEPT.get(store) ?? new Map<string, Kept>()
  KEPT.set(store, results)
  const before = results.get(name)
  if (before?.key === key) return before.value as T
  const value = workOut()
  results.set(name, { key, value })
  return value
}

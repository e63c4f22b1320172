import type { SuspicionReason } from '../../core/vocabulary.ts'

/** A past decision that stands, with the reasons that were seen. */
export interface PastDecision {
  reasons: readonly string[]
  confirmed: boolean
}

/** How many suspicions with just these reasons were decided and confirmed, and the chance that this one is. */
export interface LikeThis {
  confirmed: number
  decided: number
  chance: number | null
}

/** How many decisions the rate of the single reasons is worth. */
const WEIGHT = 4

function setOf(reasons: readonly string[]): string {
  return [...reasons].sort().join(' ')
}

/**
 * Past decisions on the same set of reasons: "7 of 9 like this were". The chance is their share, drawn to the mean rate of
 * the reasons one by one, which counts as four decisions; null while none of these reasons was ever decided on.
 */
export function likeThis(reasons: readonly SuspicionReason[], past: readonly PastDecision[]): LikeThis {
  const same = past.filter(decision => setOf(decision.reasons) === setOf(reasons))
  const confirmed = same.filter(decision => decision.confirmed).length
  const rates = reasons.flatMap(reason => {
    const decided = past.filter(decision => decision.reasons.includes(reason))
    return decided.length === 0 ? [] : [decided.filter(decision => decision.confirmed).length / decided.length]
  })
  const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length
  const chance = rates.length === 0 ? null : (confirmed + WEIGHT * mean) / (same.length + WEIGHT)
  return { confirmed, decided: same.length, chance }
}

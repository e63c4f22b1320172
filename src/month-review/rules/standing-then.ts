/** A decision on one earlier job and one later stay. */
export interface DecisionInTime {
  id: string
  earlier_id: string
  later_work_order_id: string
  /** When it was written down, in milliseconds. */
  created_at: number
  supersedes_id: string | null
}

/**
 * What stood before an instant: the decision on each job and stay that nothing known then superseded, and those that nobody
 * had decided yet, though somebody did later.
 */
export function standingThen<Decision extends DecisionInTime>(
  decisions: readonly Decision[],
  before: number,
): { standing: Decision[]; undecided: Decision[] } {
  const known = decisions.filter(decision => decision.created_at < before)
  const superseded = new Set(known.map(decision => decision.supersedes_id))
  const pair = (decision: Decision) => `${decision.earlier_id}.${decision.later_work_order_id}`
  const decided = new Set(known.map(pair))
  const firstLater = new Map<string, Decision>()
  for (const decision of decisions) {
    if (!decided.has(pair(decision)) && !firstLater.has(pair(decision))) firstLater.set(pair(decision), decision)
  }
  return { standing: known.filter(decision => !superseded.has(decision.id)), undecided: [...firstLater.values()] }
}

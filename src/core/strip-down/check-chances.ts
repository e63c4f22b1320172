/** How often each cause was the one. A cause that is absent was never. */
export type CauseCounts = Readonly<Record<string, number>>

/** Weight of the more general level against the counts of a level. */
const WEIGHT = 4

/** The chances of those that are left once some causes were found fine: they keep their proportions. */
export function chancesLeft<Cause extends { cause: string; chance: number }>(
  chances: readonly Cause[],
  foundFine: ReadonlySet<string>,
): Cause[] {
  const left = chances.filter(({ cause }) => !foundFine.has(cause))
  const sum = left.reduce((total, { chance }) => total + chance, 0)
  return left.map(each => ({ ...each, chance: sum > 0 ? each.chance / sum : each.chance }))
}

/**
 * The chance of each cause of a symptom: counts shrunk level by level, p = (n_i + 4·p_parent)/(N + 4), from equal chances
 * over all the causes ever recorded for the symptom. `levels` go from the general to the particular: (symptom), (symptom,
 * family), (symptom, family, the month and its two neighbours). `n` is the count on each level, to be shown beside the
 * chance. (Shrinkage to a Dirichlet prior of fixed weight.)
 *
 * @throws RangeError when a count is not whole or below zero, or counts a cause that is not among those given.
 */
export function checkChances(
  causes: readonly string[],
  levels: readonly CauseCounts[],
): { cause: string; chance: number; n: number[] }[] {
  for (const [cause, count] of levels.flatMap(level => Object.entries(level))) {
    if (!Number.isSafeInteger(count) || count < 0) throw new RangeError('checkChances requires counts of zero or more')
    if (!causes.includes(cause)) throw new RangeError(`checkChances requires ${cause} among the causes`)
  }
  const counts = levels.map(level => causes.map(cause => (Object.hasOwn(level, cause) ? level[cause]! : 0)))
  const chances = counts.reduce<number[]>(
    (parent, row) => {
      const total = row.reduce((sum, count) => sum + count, 0)
      return row.map((count, at) => (count + WEIGHT * parent[at]!) / (total + WEIGHT))
    },
    causes.map(() => 1 / causes.length),
  )
  return causes.map((cause, at) => ({ cause, chance: chances[at]!, n: counts.map(row => row[at]!) }))
}

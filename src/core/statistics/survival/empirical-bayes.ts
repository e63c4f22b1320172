/** Events of one group, seen and expected. */
export interface GroupEvents {
  observed: number
  expected: number
}

/** `prior` is a = mean/A in events; null when the groups differ no more than chance makes them (A = 0). */
export interface ShrunkGroups {
  mean: number
  variance: number
  prior: number | null
  multipliers: number[]
}

/**
 * How much more often than expected each group fails, drawn towards the mean of all the more, the less it has shown:
 * m = (O + a·mean)/(E + a). The spread A between the groups is found by the method of moments on O/E, weighted by E:
 * A = Σ E(O/E − mean)²/ΣE − mean/Ē, never below zero.
 *
 * Source: Marshall (1991) Applied Statistics 40:283-294, global estimator.
 *
 * @param groups expected events of zero or more; where they are zero the multiplier is 1 and the group stays out of
 *   the moments.
 * @returns `multipliers` in the order of the groups; all equal to the mean when A = 0.
 * @throws RangeError for events below zero.
 */
export function empiricalBayes(groups: readonly GroupEvents[]): ShrunkGroups {
  for (const { observed, expected } of groups) {
    if (!(observed >= 0 && expected >= 0 && Number.isFinite(observed + expected))) {
      throw new RangeError('empiricalBayes requires events of zero or more')
    }
  }
  const known = groups.filter(group => group.expected > 0)
  const observed = known.reduce((sum, group) => sum + group.observed, 0)
  const expected = known.reduce((sum, group) => sum + group.expected, 0)
  if (known.length === 0) return { mean: 1, variance: 0, prior: null, multipliers: groups.map(() => 1) }
  const mean = observed / expected
  const scatter = known.reduce((sum, group) => sum + group.expected * (group.observed / group.expected - mean) ** 2, 0)
  const variance = Math.max(0, scatter / expected - (mean * known.length) / expected)
  const prior = variance > 0 ? mean / variance : null
  return {
    mean,
    variance,
    prior,
    multipliers: groups.map(group => {
      if (group.expected === 0) return 1
      return prior === null ? mean : (group.observed + prior * mean) / (group.expected + prior)
    }),
  }
}

const BEYOND = 0.00135

/**
 * Control limits of the number of jobs from one comeback to the next (the one that came back counted), for a shop with
 * few of them: geometric, P(X ≤ x) = 1 − (1 − rate)^x. `lower` is the largest x with P(X ≤ x) ≤ 0.00135, `upper` the
 * smallest with P(X ≥ x) ≤ 0.00135; at or below `lower` they come too often, at or above `upper` too seldom to be chance.
 *
 * Source: Kaminsky, Benneyan, Davis & Burke (1992) Journal of Quality Technology 24:63-69, with exact limits.
 *
 * @param rate comebacks per job, from 0 to 1.
 * @returns limits in jobs; `lower` is null where even the very next job is no signal, all are null at a rate of zero.
 * @throws RangeError for a rate outside [0, 1].
 */
export function jobsBetweenLimits(rate: number): { lower: number | null; mean: number | null; upper: number | null } {
  if (!(rate >= 0 && rate <= 1)) throw new RangeError('jobsBetweenLimits requires a rate from 0 to 1')
  if (rate === 0) return { lower: null, mean: null, upper: null }
  if (rate === 1) return { lower: null, mean: 1, upper: 2 }
  const stays = Math.log1p(-rate)
  const lower = Math.floor(Math.log1p(-BEYOND) / stays)
  return { lower: lower >= 1 ? lower : null, mean: 1 / rate, upper: Math.ceil(Math.log(BEYOND) / stays) + 1 }
}

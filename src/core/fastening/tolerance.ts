/** A stage's limits, in the unit of its target. `default_used`: the workshop's own tolerance stands in for a missing limit. */
export interface Tolerance {
  lower: number
  upper: number
  default_used: boolean
}

/**
 * The limits that a stage is judged by. A procedure may state a target with limits or a target alone; what it leaves out
 * is the target ∓ the workshop's default tolerance, in basis points of the target (500 is 5 %), and the record says so.
 *
 * @throws RangeError when the target is not above zero, the default is below zero, or the target lies outside the limits.
 */
export function tolerance(
  stage: { target: number; lower?: number | null | undefined; upper?: number | null | undefined },
  defaultToleranceBp: number,
): Tolerance {
  const { target } = stage
  if (!(target > 0 && Number.isFinite(target))) throw new RangeError('tolerance requires a target above zero')
  if (!(defaultToleranceBp >= 0)) throw new RangeError('tolerance requires a default tolerance of zero or more')
  const lower = stage.lower ?? (target * (10_000 - defaultToleranceBp)) / 10_000
  const upper = stage.upper ?? (target * (10_000 + defaultToleranceBp)) / 10_000
  if (!(lower <= target && target <= upper)) throw new RangeError('tolerance requires a target within its limits')
  return { lower, upper, default_used: stage.lower == null || stage.upper == null }
}

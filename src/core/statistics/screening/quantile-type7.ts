/**
 * A quantile by straight line between the two values it falls between: type 7 of Hyndman & Fan (1996) The American
 * Statistician 50:361-365.
 *
 * @param sorted values from small to great, at least one.
 * @param p from 0 to 1.
 * @throws RangeError for no value and for p outside [0, 1].
 * @example quantileType7([1, 2, 3, 4], 0.25) // 1.75
 */
export function quantileType7(sorted: ArrayLike<number>, p: number): number {
  if (sorted.length === 0) throw new RangeError('quantileType7 requires at least one value')
  if (!(p >= 0 && p <= 1)) throw new RangeError('quantileType7 requires a probability from 0 to 1')
  const place = (sorted.length - 1) * p
  const below = Math.floor(place)
  const low = sorted[below]!
  const high = sorted[below + 1] ?? low
  return low + (place - below) * (high - low)
}

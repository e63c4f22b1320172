import gammaQuantile from '@stdlib/stats-base-dists-gamma-quantile'

/** Terms this small beside the chance of the count itself add nothing that a double can hold. */
const NEGLIGIBLE = 1e-18
const STEPS = 20

/** The chances of `count` or fewer and of `count` itself under a Poisson mean, summed outwards from the count. */
function atMost(count: number, mean: number): { tail: number; point: number } {
  let below = 1
  for (let k = count, term = 1; k > 0 && term > NEGLIGIBLE * below; k--) {
    term *= k / mean
    below += term
  }
  let above = 0
  for (let k = count + 1, term = 1; k <= mean || term > NEGLIGIBLE * above; k++) {
    term *= mean / k
    above += term
  }
  return { tail: below / (below + above), point: 1 / (below + above) }
}

/**
 * The mean under which `count` or fewer have the chance `tail`. The library's quantile is off by up to two parts in ten
 * thousand from a thousand events on, so Newton's steps on the summed chances finish it.
 */
function meanOfTail(count: number, tail: number): number {
  let mean = gammaQuantile(1 - tail, count + 1, 1)
  for (let step = 0; step < STEPS; step++) {
    const seen = atMost(count, mean)
    const move = (seen.tail - tail) / seen.point
    mean += move
    if (Math.abs(move) <= 1e-14 * mean) break
  }
  return mean
}

/**
 * Exact limits of the mean of a Poisson count: the smallest and the largest mean under which a count as great, or as
 * small, still has half of the chance left over.
 *
 * Source: Garwood (1936) Biometrika 28:437-442; by gamma quantiles as in Ulm (1990) Am J Epidemiol 131:373-375.
 *
 * @param count events seen, a whole number.
 * @param level of confidence, strictly between 0 and 1.
 * @returns limits of the mean, in events.
 * @throws RangeError for a count below zero or not whole, and for a level outside (0, 1).
 * @example poissonInterval(0).upper.toFixed(4) // '3.6889'
 */
export function poissonInterval(count: number, level = 0.95): { lower: number; upper: number } {
  if (!(Number.isSafeInteger(count) && count >= 0)) {
    throw new RangeError('poissonInterval requires a count of zero or more')
  }
  if (!(level > 0 && level < 1)) throw new RangeError('poissonInterval requires a level between 0 and 1')
  const tail = (1 - level) / 2
  return { lower: count === 0 ? 0 : meanOfTail(count - 1, 1 - tail), upper: meanOfTail(count, tail) }
}

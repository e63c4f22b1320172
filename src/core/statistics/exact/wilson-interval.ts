import { Z_95 } from '../z95.ts'

/**
 * 95 % score limits of a proportion, without continuity correction: the proportions that the count seen would not
 * reject. They stay sensible at none, at all and at few.
 *
 * Source: Wilson (1927) JASA 22:209-212; method 3 of Newcombe (1998) Statistics in Medicine 17:857-872.
 *
 * @param successes a whole number, at most `trials`.
 * @param trials a whole number, one or more.
 * @throws RangeError for counts that cannot be.
 * @example wilsonInterval(81, 263).lower.toFixed(4) // '0.2553'
 */
export function wilsonInterval(successes: number, trials: number): { lower: number; upper: number } {
  if (!(Number.isSafeInteger(trials) && trials >= 1)) {
    throw new RangeError('wilsonInterval requires at least one trial')
  }
  if (!(Number.isSafeInteger(successes) && successes >= 0 && successes <= trials)) {
    throw new RangeError('wilsonInterval requires successes from zero to the number of trials')
  }
  const failures = trials - successes
  const square = Z_95 * Z_95
  const middle = 2 * successes + square
  const half = Z_95 * Math.sqrt(square + (4 * successes * failures) / trials)
  const scale = 2 * (trials + square)
  return {
    // At none and at all the limit is exact; the formula would leave a rounding error beside it.
    lower: successes === 0 ? 0 : (middle - half) / scale,
    upper: failures === 0 ? 1 : (middle + half) / scale,
  }
}

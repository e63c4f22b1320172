import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'

/**
 * Exact limits of a proportion, never narrower than they claim.
 *
 * Source: Clopper & Pearson (1934) Biometrika 26:404-413, by beta quantiles.
 *
 * @param successes a whole number, at most `trials`.
 * @param trials a whole number, one or more.
 * @param level of confidence, strictly between 0 and 1.
 * @throws RangeError for counts that cannot be and for a level outside (0, 1).
 * @example binomialInterval(0, 20).upper.toFixed(4) // '0.1684'
 */
export function binomialInterval(successes: number, trials: number, level = 0.95): { lower: number; upper: number } {
  if (!(Number.isSafeInteger(trials) && trials >= 1)) {
    throw new RangeError('binomialInterval requires at least one trial')
  }
  if (!(Number.isSafeInteger(successes) && successes >= 0 && successes <= trials)) {
    throw new RangeError('binomialInterval requires successes from zero to the number of trials')
  }
  if (!(level > 0 && level < 1)) throw new RangeError('binomialInterval requires a level between 0 and 1')
  const tail = (1 - level) / 2
  const failures = trials - successes
  return {
    lower: successes === 0 ? 0 : betaQuantile(tail, successes, failures + 1),
    upper: failures === 0 ? 1 : betaQuantile(1 - tail, successes + 1, failures),
  }
}

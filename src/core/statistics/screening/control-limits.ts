import binomialCdf from '@stdlib/stats-base-dists-binomial-cdf'

/** The chance left beyond each limit: that of three standard deviations on a normal chart (Shewhart 1931). */
const BEYOND = 0.00135

/** The smallest whole number in [low, high] of which `holds` is true, or null; once true it stays true. */
function first(low: number, high: number, holds: (x: number) => boolean): number | null {
  let [from, to] = [low, high + 1]
  while (from < to) {
    const middle = Math.floor((from + to) / 2)
    if (holds(middle)) to = middle
    else from = middle + 1
  }
  return from > high ? null : from
}

/**
 * Exact control limits of a share of comebacks among a number of jobs, at the rate that held before. The upper limit is
 * x/jobs for the smallest x with P(X ≥ x) ≤ 0.00135, the lower for the largest x with P(X ≤ x) ≤ 0.00135: a share at or
 * beyond a limit is a signal.
 *
 * Source: Montgomery (2013) Introduction to Statistical Quality Control, 7th ed., section 7.2, with the exact binomial
 * in place of its normal approximation.
 *
 * @param jobs a whole number of zero or more.
 * @param rate comebacks per job before, from 0 to 1; null when there was no earlier job.
 * @returns shares of the jobs; a limit is null where no number of comebacks is rare enough.
 * @throws RangeError for a number of jobs or a rate that cannot be.
 */
export function controlLimits(jobs: number, rate: number | null): { lower: number | null; upper: number | null } {
  if (!(Number.isSafeInteger(jobs) && jobs >= 0)) throw new RangeError('controlLimits requires jobs of zero or more')
  if (rate !== null && !(rate >= 0 && rate <= 1)) throw new RangeError('controlLimits requires a rate from 0 to 1')
  if (rate === null || jobs === 0) return { lower: null, upper: null }
  // P(X ≥ x) is P(jobs − X ≤ jobs − x): a small tail is summed, not left over from one.
  const upper = first(0, jobs, x => binomialCdf(jobs - x, jobs, 1 - rate) <= BEYOND)
  const usual = first(0, jobs, x => binomialCdf(x, jobs, rate) > BEYOND)! // x = jobs always is
  return { lower: usual === 0 ? null : (usual - 1) / jobs, upper: upper === null ? null : upper / jobs }
}

/** How often something was bad among those cases that are like this one, and among all of them. */
export interface Cases {
  n: number
  n_bad: number
  n_all: number
  n_bad_all: number
}

/** From so many cases on they stand for themselves. */
export const ENOUGH_CASES = 10
const BORROWED = 4

/**
 * The parameters of the Beta distribution of the chance that one more is bad: Jeffreys' ½ and ½ and the cases; with fewer
 * than ten of them four more are borrowed at the rate of all.
 *
 * Source: Jeffreys' prior as in Brown, Cai & DasGupta (2001) Statistical Science 16:101-133; the weight of four is the house's.
 *
 * @throws RangeError when more are bad than there are, or a count is below zero or not whole.
 */
export function betaOfCases({ n, n_bad, n_all, n_bad_all }: Cases): [bad: number, fine: number] {
  for (const [bad, count] of [
    [n_bad, n],
    [n_bad_all, n_all],
  ] as const)
    if (!Number.isSafeInteger(bad) || !Number.isSafeInteger(count) || bad < 0 || bad > count)
      throw new RangeError('betaOfCases requires whole counts with no more bad than there are')
  const chanceAll = (0.5 + n_bad_all) / (1 + n_all)
  const borrowed = n < ENOUGH_CASES ? BORROWED : 0
  return [0.5 + n_bad + borrowed * chanceAll, 0.5 + n - n_bad + borrowed * (1 - chanceAll)]
}

/**
 * The q value of each test among many: the smallest false discovery rate at which it would still be called found. With
 * the p values sorted, q(i) = min over j ≥ i of p(j)·m/j, at most 1.
 *
 * Source: Benjamini & Hochberg (1995) JRSS B 57:289-300, the step-up procedure.
 *
 * @param pValues each from 0 to 1, in any order.
 * @returns q values in the order of the p values.
 * @throws RangeError for a p outside [0, 1].
 * @example benjaminiHochberg([0.01, 0.04]) // [0.02, 0.04]
 */
export function benjaminiHochberg(pValues: readonly number[]): number[] {
  for (const p of pValues) {
    if (!(p >= 0 && p <= 1)) throw new RangeError('benjaminiHochberg requires p values from 0 to 1')
  }
  const tests = pValues.length
  const order = pValues.map((_, i) => i).sort((a, b) => pValues[a]! - pValues[b]!)
  const q = new Array<number>(tests).fill(1)
  let smallest = 1
  for (let rank = tests; rank >= 1; rank--) {
    const test = order[rank - 1]!
    smallest = Math.min(smallest, pValues[test]! * (tests / rank))
    q[test] = smallest
  }
  return q
}

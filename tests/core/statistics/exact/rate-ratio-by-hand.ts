import type { RateStratum } from '../../../../src/core/statistics/exact/mantel-haenszel.ts'

/** The chances of every number of exposed failures at ψ, one trial added at a time. */
export function distributionByHand(strata: readonly RateStratum[], psi: number): number[] {
  let pmf = [1]
  for (const { exposedEvents, exposedTime, unexposedEvents, unexposedTime } of strata) {
    const chance = (psi * exposedTime) / (psi * exposedTime + unexposedTime)
    for (let trial = 0; trial < exposedEvents + unexposedEvents; trial++) {
      const next = new Array<number>(pmf.length + 1).fill(0)
      pmf.forEach((mass, k) => {
        next[k]! += mass * (1 - chance)
        next[k + 1]! += mass * chance
      })
      pmf = next
    }
  }
  return pmf
}

/** Both tails at ψ; `share` of the chance of what was seen belongs to each. */
export function tailsByHand(strata: readonly RateStratum[], psi: number, share: number) {
  const seen = strata.reduce((sum, stratum) => sum + stratum.exposedEvents, 0)
  const tails = { upper: 0, lower: 0 }
  distributionByHand(strata, psi).forEach((mass, k) => {
    if (k > seen) tails.upper += mass
    if (k < seen) tails.lower += mass
    if (k === seen) {
      tails.upper += share * mass
      tails.lower += share * mass
    }
  })
  return tails
}

/** The root of a rising function of ψ, by halving its logarithm. */
function bisect(rising: (psi: number) => number): number {
  let [low, high] = [-40, 40]
  for (let step = 0; step < 80; step++) {
    const middle = (low + high) / 2
    if (rising(Math.exp(middle)) < 0) low = middle
    else high = middle
  }
  return Math.exp((low + high) / 2)
}

/** Straight from the definition: strata with time on both sides, every trial, every ψ anew. */
export function rateRatioByHand(all: readonly RateStratum[], share: number) {
  const strata = all.filter(stratum => stratum.exposedTime > 0 && stratum.unexposedTime > 0)
  const exposed = strata.reduce((sum, stratum) => sum + stratum.exposedEvents, 0)
  const unexposed = strata.reduce((sum, stratum) => sum + stratum.unexposedEvents, 0)
  if (exposed + unexposed === 0) return { ratio: null, lower: null, upper: null, p: 1 }
  let [above, below] = [0, 0]
  for (const { exposedEvents, exposedTime, unexposedEvents, unexposedTime } of strata) {
    above += (exposedEvents * unexposedTime) / (exposedTime + unexposedTime)
    below += (unexposedEvents * exposedTime) / (exposedTime + unexposedTime)
  }
  const atOne = tailsByHand(strata, 1, share)
  return {
    ratio: unexposed === 0 ? null : above / below,
    lower: exposed === 0 ? 0 : bisect(psi => tailsByHand(strata, psi, share).upper - 0.025),
    upper: unexposed === 0 ? null : bisect(psi => 0.025 - tailsByHand(strata, psi, share).lower),
    p: Math.min(1, 2 * Math.min(atOne.upper, atOne.lower)),
  }
}

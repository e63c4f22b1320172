import { mantelHaenszel, type RateStratum } from './mantel-haenszel.ts'
import { type SharedOdds, tilt } from './tilted-sum.ts'

/** A common ratio of two rates with its limits and a two-sided p; null where there is no finite number to give. */
export interface RateRatio {
  ratio: number | null
  lower: number | null
  upper: number | null
  p: number
}

/** `exact` counts the whole chance of what was seen into each tail, `mid-p` half of it. */
export interface RateRatioOptions {
  tail: 'exact' | 'mid-p'
  level?: number
}

/** Trials of the conditional distribution: a failure of a stratum is an exposed one with the odds ψ·T1/T0. */
function oddsOf(strata: readonly RateStratum[]): SharedOdds[] {
  const odds: SharedOdds[] = []
  for (const stratum of strata) {
    const { exposedEvents, exposedTime, unexposedEvents, unexposedTime } = stratum
    if (!(isCount(exposedEvents) && isCount(unexposedEvents))) {
      throw new RangeError('rateRatio requires counts of zero or more')
    }
    if (!(exposedTime >= 0 && unexposedTime >= 0 && Number.isFinite(exposedTime + unexposedTime))) {
      throw new RangeError('rateRatio requires times of zero or more')
    }
    const trials = exposedEvents + unexposedEvents
    // Without time on both sides which side a failure falls on is settled beforehand: it says nothing about the ratio.
    if (trials > 0 && exposedTime > 0 && unexposedTime > 0) {
      odds.push({ trials, logOdds: Math.log(exposedTime) - Math.log(unexposedTime) })
    }
  }
  return odds
}

function isCount(value: number): boolean {
  return Number.isSafeInteger(value) && value >= 0
}

/**
 * The exact common ratio of two Poisson rates over strata, given how many failures each stratum had: the exposed ones
 * are then a sum of independent trials with chance ψT1/(ψT1 + T0), whose distribution comes from one convolution. The
 * point estimate is that of Mantel and Haenszel, the limits are the ψ at which a tail is half of 1 − level, and p is
 * twice the smaller tail at ψ = 1.
 *
 * Source: Martin & Austin (1996) Epidemiology 7:29-33; mid-P after Lancaster (1961) JASA 56:223-234.
 *
 * @param strata failures (whole numbers) and time; those without time on both sides are left out.
 * @returns no failure, or no time on a side: no ratio, no limits and p = 1. No unexposed failure: ratio and upper null.
 *   No exposed failure: ratio and lower 0.
 * @throws RangeError for counts or times below zero and for a level outside (0, 1).
 */
export function rateRatio(strata: readonly RateStratum[], { tail, level = 0.95 }: RateRatioOptions): RateRatio {
  if (!(level > 0 && level < 1)) throw new RangeError('rateRatio requires a level between 0 and 1')
  const odds = oddsOf(strata)
  const trials = odds.reduce((sum, stratum) => sum + stratum.trials, 0)
  if (trials === 0) return { ratio: null, lower: null, upper: null, p: 1 }
  let exposed = 0
  for (const { exposedEvents, exposedTime, unexposedTime } of strata) {
    if (exposedTime > 0 && unexposedTime > 0) exposed += exposedEvents
  }
  const sum = tilt(odds, exposed, tail === 'exact' ? 1 : 0.5)
  const target = (1 - level) / 2
  return {
    ratio: mantelHaenszel(strata),
    lower: exposed === 0 ? 0 : Math.exp(sum.solve('upper', target)),
    upper: exposed === trials ? null : Math.exp(sum.solve('lower', target)),
    p: Math.min(1, 2 * sum.smallerTail(0)),
  }
}

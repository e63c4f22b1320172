import { Z_95 } from '../z95.ts'
import { mantelHaenszel, type RateStratum } from './mantel-haenszel.ts'

/** The 80 % point of the standard normal distribution: four times in five a ratio that is there is shown. */
const Z_80 = 0.8416212335729143

/**
 * How certain the logarithm of the common rate ratio is: its variance, by Greenland and Robins. On one stratum it is 1/b + 1/c.
 *
 * Source: Greenland & Robins (1985) Biometrics 41:55-68; Rothman, Greenland & Lash (2008) Modern Epidemiology, chapter 15.
 *
 * @returns null where there is no failure on a side.
 */
export function logRatioVariance(strata: readonly RateStratum[]): number | null {
  let [above, exposed, unexposed] = [0, 0, 0]
  for (const { exposedEvents, exposedTime, unexposedEvents, unexposedTime } of strata) {
    if (!(exposedTime > 0 && unexposedTime > 0)) continue
    const time = exposedTime + unexposedTime
    above += ((exposedEvents + unexposedEvents) * exposedTime * unexposedTime) / (time * time)
    exposed += (exposedEvents * unexposedTime) / time
    unexposed += (unexposedEvents * exposedTime) / time
  }
  return exposed > 0 && unexposed > 0 ? above / (exposed * unexposed) : null
}

/**
 * How much more exposed time would tell a rate ratio from one, if it stays as it is and both sides grow in the proportion
 * that they have: then the variance v of its logarithm falls to v/f when everything is f times as much, and Wald's test at
 * 5 % (two-sided) finds the ratio with 80 % chance when v/f = (log ratio/(z₀.₉₇₅ + z₀.₈))².
 *
 * Source: Wald's test of the log rate ratio and its power as in Breslow & Day (1987) Statistical Methods in Cancer Research,
 * volume II, chapter 7 (from memory); tested against the exact power of Poisson counts.
 *
 * @param strata failures and time, as for `mantelHaenszel`.
 * @returns in the unit of the exposed time; 0 when there is enough; null when nobody can say: no failure on a side, or a
 *   ratio of one.
 */
export function timeToTell(strata: readonly RateStratum[]): number | null {
  const ratio = mantelHaenszel(strata)
  const variance = logRatioVariance(strata)
  if (ratio === null || variance === null || ratio === 1) return null
  const asMuch = variance * ((Z_95 + Z_80) / Math.log(ratio)) ** 2
  const exposedTime = strata.reduce((sum, { exposedTime: own, unexposedTime: other }) => sum + (other > 0 ? own : 0), 0)
  const more = Math.max(0, asMuch - 1) * exposedTime
  return Number.isFinite(more) ? more : null
}

/** Failures and time of one stratum on the side that is exposed and on the side that is not; time in any one unit. */
export interface RateStratum {
  exposedEvents: number
  exposedTime: number
  unexposedEvents: number
  unexposedTime: number
}

/**
 * The common ratio of two rates over strata, as Mantel and Haenszel weigh them: Σ(b·T0/T) / Σ(c·T1/T). On one stratum it
 * is the crude ratio. Strata without time on both sides say nothing about it and are left out.
 *
 * Source: Rothman & Greenland (1998) Modern Epidemiology, 2nd ed., chapter 15.
 *
 * @returns the ratio; 0 when there are failures and none is exposed; null when there is none to give: no failure, none
 *   unexposed, or no stratum with time on both sides.
 */
export function mantelHaenszel(strata: readonly RateStratum[]): number | null {
  let above = 0
  let below = 0
  for (const { exposedEvents, exposedTime, unexposedEvents, unexposedTime } of strata) {
    if (!(exposedTime > 0 && unexposedTime > 0)) continue
    const time = exposedTime + unexposedTime
    above += (exposedEvents * unexposedTime) / time
    below += (unexposedEvents * exposedTime) / time
  }
  return below > 0 ? above / below : null
}

/** How long one unit was watched, and whether its event ended it (`event`) or the watching did. */
export interface WatchedTime {
  time: number
  event: boolean
}

export interface HazardPoint {
  at: number
  at_risk: number
  events: number
  hazard: number
}

/** The cumulative hazard as a step function: its steps, and its value at any time. */
export interface CumulativeHazard {
  points: HazardPoint[]
  /** H(t), flat before the first step, between the steps and beyond the last. */
  hazardAt(time: number): number
}

/**
 * The Nelson–Aalen estimate of the cumulative hazard: H(t) = Σ d/n over the event times up to t. At a time where events
 * and the end of watching meet, those that end are still at risk.
 *
 * Source: Nelson (1972) Technometrics 14:945-966; Aalen (1978) Annals of Statistics 6:701-726.
 *
 * @param watched times of zero or more, in any one unit; none gives a hazard of zero.
 * @throws RangeError for a time below zero, and from `hazardAt` for one that is no number.
 */
export function nelsonAalen(watched: readonly WatchedTime[]): CumulativeHazard {
  for (const { time } of watched) {
    if (!(time >= 0 && Number.isFinite(time))) throw new RangeError('nelsonAalen requires times of zero or more')
  }
  const sorted = watched.toSorted((a, b) => a.time - b.time)
  const points: HazardPoint[] = []
  let hazard = 0
  for (let i = 0; i < sorted.length; ) {
    const at = sorted[i]!.time
    const atRisk = sorted.length - i
    let events = 0
    for (; i < sorted.length && sorted[i]!.time === at; i++) if (sorted[i]!.event) events++
    if (events === 0) continue
    hazard += events / atRisk
    points.push({ at, at_risk: atRisk, events, hazard })
  }
  return {
    points,
    hazardAt(time) {
      if (Number.isNaN(time)) throw new RangeError('hazardAt requires a time')
      let low = 0
      let high = points.length
      while (low < high) {
        const middle = (low + high) >> 1
        if (points[middle]!.at <= time) low = middle + 1
        else high = middle
      }
      return low === 0 ? 0 : points[low - 1]!.hazard
    },
  }
}

import betaCdf from '@stdlib/stats-base-dists-beta-cdf'
import betaQuantile from '@stdlib/stats-base-dists-beta-quantile'
import { sumMinor, timesMinor } from '../money.ts'
import type { Severity } from '../vocabulary.ts'
import { costLater } from './cost-later.ts'
import { betaOfCases, ENOUGH_CASES } from './few-cases.ts'

/**
 * A component that lies open. Looks and bad ones on this family, and over all families; one vehicle counts once a stay.
 * `minutes` for the look; `part_minor` and `own_hours` to put it right now; `access_hours` all the strip-down that doing it
 * later takes again; `our_share_bp` the part of that labour that we would bear, in basis points; `rate_minor` an hour.
 */
export interface OpenComponent {
  n_looked: number
  n_bad: number
  n_looked_all: number
  n_bad_all: number
  severity: Severity
  minutes: number
  part_minor: number
  own_hours: number
  access_hours: number
  rate_minor: number
  our_share_bp: number
}

/** Money in minor units. `break_even_chance` is null when waiting costs nothing more. */
export interface WhileOpen {
  chance: number
  chance_lower: number
  chance_upper: number
  cost_look_minor: number
  cost_now_minor: number
  cost_later_minor: number
  break_even_chance: number | null
  net_minor: number
  chance_worth_it: number
  worth_it: boolean
  asked_for: boolean
  /** Looks on the family are few, and four were borrowed at the rate of all families. */
  borrows: boolean
}

/**
 * Whether to look at a component while it is open. The chance that it is bad has a Beta distribution, Beta(½ + bad, ½ +
 * looked − bad); with fewer than ten looks on the family four more are borrowed at the rate of all families. Limits are its
 * 2.5 and 97.5 % points. Later costs what now costs and all access hours again at the rate, as far as we bear them; break-even
 * is look/(later − now), worth it when the mean passes it; `chance_worth_it` is P(chance > break-even). A look at a safety
 * component is always asked for: money never argues against it. Each sum is rounded once, half away from zero.
 *
 * @throws RangeError when more are bad than were looked at, or a count, time or price is below zero or not whole where it
 * must be.
 */
export function whileOpen(component: OpenComponent): WhileOpen {
  const { n_looked, n_bad, n_looked_all, n_bad_all, minutes, rate_minor, severity } = component
  if (!(minutes >= 0)) throw new RangeError('whileOpen requires a look of zero minutes or more')
  const [bad, fine] = betaOfCases({ n: n_looked, n_bad, n_all: n_looked_all, n_bad_all })
  const chance = bad / (bad + fine)
  const { now_minor: nowMinor, again_minor: againMinor, later_minor } = costLater(component)
  const lookMinor = timesMinor(minutes, rate_minor, 60)
  const breakEven = againMinor > 0 ? lookMinor / againMinor : null
  const isWorthIt = breakEven !== null && chance > breakEven
  return {
    chance,
    chance_lower: betaQuantile(0.025, bad, fine),
    chance_upper: betaQuantile(0.975, bad, fine),
    cost_look_minor: lookMinor,
    cost_now_minor: nowMinor,
    cost_later_minor: later_minor,
    break_even_chance: breakEven,
    net_minor: sumMinor([timesMinor(chance, againMinor), -lookMinor]),
    chance_worth_it: breakEven === null ? 0 : 1 - betaCdf(Math.min(breakEven, 1), bad, fine),
    worth_it: isWorthIt,
    asked_for: severity === 'safety' || isWorthIt,
    borrows: n_looked < ENOUGH_CASES,
  }
}

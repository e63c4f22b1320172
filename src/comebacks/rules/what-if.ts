import { type CalendarDate, daysBetween } from '../../core/calendar.ts'
import { poissonInterval } from '../../core/statistics/exact/poisson-interval.ts'

/** A job of the operation that was handed back; `returned` when it came back and the component was found failed then. */
export interface JobLookedBackOn {
  handed_back_on: CalendarDate
  returned: boolean
  /** What that return cost us, in minor units; null where nobody knows. */
  cost_minor: number | null
}

export interface WhatIf {
  jobs: number
  years: number
  jobs_a_year: number | null
  /** What the look would take. */
  minutes_a_year: number | null
  cost_a_year_minor: number | null
  /** Returns that it might have caught, at best. */
  caught: number
  caught_a_year: number | null
  lower: number | null
  upper: number | null
  /** What those returns cost us, as far as it is known, in all and a year, and of how many it is. */
  returns_cost_minor: number
  returns_cost_a_year_minor: number | null
  returns_costed: number
}

const DAYS_A_YEAR = 365.25

/**
 * What a look on every job of an operation would have cost, and the comebacks that it might have caught, over our own
 * history: from its first day to `asOf`. The count a year has Garwood's exact limits (see `poissonInterval`). At best: a look
 * finds what is there to be seen on the day, and not every failure is.
 *
 * @param minutes what one look takes; rateMinor what an hour of ours costs us, in minor units.
 * @returns no rates while the history spans no day.
 */
export function whatIf(
  jobs: readonly JobLookedBackOn[],
  {
    minutes,
    rateMinor,
    from,
    asOf,
  }: { minutes: number; rateMinor: number; from: CalendarDate | null; asOf: CalendarDate },
): WhatIf {
  const years = from === null ? 0 : Math.max(0, daysBetween(from, asOf)) / DAYS_A_YEAR
  const returns = jobs.filter(job => job.returned)
  const costs = returns.flatMap(job => job.cost_minor ?? [])
  const common = {
    jobs: jobs.length,
    years,
    caught: returns.length,
    returns_cost_minor: costs.reduce((sum, cost) => sum + cost, 0),
    returns_costed: costs.length,
  }
  if (years === 0) {
    const unknown = {
      jobs_a_year: null,
      minutes_a_year: null,
      cost_a_year_minor: null,
      returns_cost_a_year_minor: null,
    }
    return { ...common, ...unknown, caught_a_year: null, lower: null, upper: null }
  }
  const limits = poissonInterval(returns.length)
  const minutesAYear = (jobs.length * minutes) / years
  return {
    ...common,
    jobs_a_year: jobs.length / years,
    minutes_a_year: minutesAYear,
    cost_a_year_minor: Math.round((minutesAYear / 60) * rateMinor),
    returns_cost_a_year_minor: Math.round(common.returns_cost_minor / years),
    caught_a_year: returns.length / years,
    lower: limits.lower / years,
    upper: limits.upper / years,
  }
}

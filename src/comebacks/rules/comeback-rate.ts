import { addMonths, daysBetween, monthBounds } from '../../core/calendar.ts'
import { wilsonInterval } from '../../core/statistics/exact/wilson-interval.ts'
import { controlLimits } from '../../core/statistics/screening/control-limits.ts'

/** A job that was handed back, with its first confirmed comeback. */
export interface RatedJob {
  handed_back_on: string
  window_days: number
  operation: string | null
  family: string
  suppliers: readonly string[]
  comeback: { on: string; category: string | null } | null
}

export interface RateAsked {
  by: 'month' | 'operation' | 'cause' | 'supplier' | 'family'
  /** The first and the last day of hand-back; null: no bound. */
  from: string | null
  to: string | null
  asOf: string
}

export interface RateGroup {
  key: string
  jobs: number
  comebacks: number
  rate: number | null
  lower: number | null
  upper: number | null
  limit_lower: number | null
  limit_upper: number | null
  still_open: { jobs: number; comebacks: number }
}

/** Jobs that have been out for their whole window, and those that have not, each with its comebacks. */
export interface Tally {
  jobs: number
  comebacks: number
  still_open: { jobs: number; comebacks: number }
}

/** The calendar begins here; a year before is looked for only where there is one. */
const FIRST_DAY = '0000-01-01'
const FIRST_DAY_WITH_A_YEAR_BEFORE = '0001-01-01'

export type Counts = (job: RatedJob) => boolean

export function cameBack(job: RatedJob): boolean {
  return job.comeback !== null && daysBetween(job.handed_back_on, job.comeback.on) <= job.window_days
}

/** Counts jobs on both sides of their window; `counts` says which came back as it is asked. */
export function tallyOf(jobs: readonly RatedJob[], asOf: string, counts: Counts): Tally {
  const tally = { jobs: 0, comebacks: 0, still_open: { jobs: 0, comebacks: 0 } }
  for (const job of jobs) {
    const isOut = daysBetween(job.handed_back_on, asOf) >= job.window_days
    const side = isOut ? tally : tally.still_open
    side.jobs += 1
    if (counts(job)) side.comebacks += 1
  }
  return tally
}

/** Comebacks per job of the twelve months before a day; null without a job that has been out for its whole window. */
function rateBefore(jobs: readonly RatedJob[], day: string, asOf: string, counts: Counts): number | null {
  const first = day < FIRST_DAY_WITH_A_YEAR_BEFORE ? FIRST_DAY : addMonths(day, -12)
  const earlier = jobs.filter(job => job.handed_back_on >= first && job.handed_back_on < day)
  const tally = tallyOf(earlier, asOf, counts)
  return tally.jobs === 0 ? null : tally.comebacks / tally.jobs
}

function groupOf(key: string, tally: Tally, rateBeforeIt: number | null): RateGroup {
  const { jobs, comebacks, still_open } = tally
  const limits = controlLimits(jobs, rateBeforeIt)
  const interval = jobs === 0 ? { lower: null, upper: null } : wilsonInterval(comebacks, jobs)
  return {
    key,
    jobs,
    comebacks,
    rate: jobs === 0 ? null : comebacks / jobs,
    ...interval,
    limit_lower: limits.lower,
    limit_upper: limits.upper,
    still_open,
  }
}

/** Under which keys a job counts. */
function keysOf(job: RatedJob, by: Exclude<RateAsked['by'], 'cause'>): readonly string[] {
  if (by === 'month') return [job.handed_back_on.slice(0, 7)]
  if (by === 'operation') return [job.operation ?? '']
  return by === 'family' ? [job.family] : job.suppliers
}

/**
 * Comebacks within the window among the jobs handed back in a period, in groups, with Wilson's interval and exact binomial
 * limits at the rate of the twelve months before: before the month, in the other groups before `from`. By cause the jobs
 * are all of the period, and the limits are at the earlier rate of that cause.
 *
 * @param jobs all that were ever handed back; months come in order, other groups by comebacks.
 */
export function comebackRate(jobs: readonly RatedJob[], { by, from, to, asOf }: RateAsked): RateGroup[] {
  const period = jobs.filter(
    job => (from === null || job.handed_back_on >= from) && (to === null || job.handed_back_on <= to),
  )
  const before = (counts: Counts) => (from === null ? null : rateBefore(jobs, from, asOf, counts))
  if (by === 'cause') {
    const causes = new Set(period.filter(cameBack).map(job => job.comeback?.category ?? ''))
    return sorted(
      [...causes].map(cause => {
        const counts = (job: RatedJob) => cameBack(job) && (job.comeback?.category ?? '') === cause
        return groupOf(cause, tallyOf(period, asOf, counts), before(counts))
      }),
    )
  }
  const groups = new Map<string, RatedJob[]>()
  for (const job of period) {
    for (const key of keysOf(job, by)) {
      const own = groups.get(key)
      if (own === undefined) groups.set(key, [job])
      else own.push(job)
    }
  }
  if (by === 'month') {
    return [...groups]
      .map(([month, own]) =>
        groupOf(month, tallyOf(own, asOf, cameBack), rateBefore(jobs, monthBounds(month).first, asOf, cameBack)),
      )
      .sort((a, b) => (a.key < b.key ? -1 : 1))
  }
  const rate = before(cameBack)
  return sorted([...groups].map(([key, own]) => groupOf(key, tallyOf(own, asOf, cameBack), rate)))
}

function sorted(groups: RateGroup[]): RateGroup[] {
  const all = ({ comebacks, still_open }: RateGroup) => comebacks + still_open.comebacks
  return groups.sort((a, b) => all(b) - all(a) || (a.key < b.key ? -1 : 1))
}

import { costOfComeback } from '../../comebacks/index.ts'
import { addDays, type CalendarDate } from '../../core/calendar.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import type { WarrantyExposureQuery } from '../contract.ts'
import { type PromiseTitle, promiseTitles, readings } from '../queries.ts'
import { openPromises, risks, usageOf } from '../rules.ts'
import { jobsAsKnown, livesOf } from './exposure.ts'

/** One of our promises that still runs, as a person reads it. */
export interface PromiseTold extends PromiseTitle {
  vehicle_id: string
  handed_back_on: CalendarDate
  until_on: CalendarDate
  /** As the odometer is to show it; null without a limit, or where nobody read it at hand-back. */
  until_km: number | null
  /** The day by date or by distance, at the vehicle's usage: whichever comes first. */
  ends_on: CalendarDate
  /** That it is still claimed, and what that would cost on average, in minor units. */
  chance: number
  mean_cost_minor: number
}

const MOST_AT_RISK = 10

/** The ten that are most likely to be claimed, the likeliest first; none where no chance is above zero. */
export function mostAtRisk(told: readonly PromiseTold[]): PromiseTold[] {
  return told
    .filter(({ chance }) => chance > 0)
    .toSorted((one, other) => other.chance - one.chance || one.ends_on.localeCompare(other.ends_on))
    .slice(0, MOST_AT_RISK)
}

/** Every promise on a job that runs and has not been claimed, soonest end first. */
export function promises(ctx: Context, query: WarrantyExposureQuery): PromiseTold[] {
  const known = asKnown(ctx, query.as_of)
  const usage = usageOf(livesOf(readings(ctx.read)), known)
  const jobs = jobsAsKnown(ctx, known, comeback => costOfComeback(ctx, comeback, known.before))
  const open = openPromises(jobs, usage, known.asOf)
  const risk = risks(jobs, usage, known.asOf)
  const titles = promiseTitles(
    ctx.read,
    open.map(({ job }) => job.id),
  )
  return open.flatMap(({ job, ends_on }) => {
    const title = titles.get(job.id)
    if (title === undefined) return []
    const { vehicle_id, handed_back_on, warranty_days, warranty_km } = job
    const until_km = title.km === null || warranty_km === null ? null : title.km + warranty_km
    const until_on = addDays(handed_back_on, warranty_days)
    const { chance = 0, mean_cost_minor = 0 } = risk.get(job.id) ?? {}
    return [{ ...title, vehicle_id, handed_back_on, until_on, until_km, ends_on, chance, mean_cost_minor }]
  })
}

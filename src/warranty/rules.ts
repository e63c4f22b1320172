import { addDays, type CalendarDate, dayNumber, monthBounds, monthOf } from '../core/calendar.ts'
import { odometerLine } from '../core/statistics/recurrence/odometer-readings.ts'
import type { LifeRecord } from '../core/statistics/recurrence/vehicle-life.ts'
import { quantileType7 } from '../core/statistics/screening/quantile-type7.ts'
import { theilSen } from '../core/statistics/screening/theil-sen.ts'
import { warrantyEnd } from '../core/statistics/survival/warranty-end.ts'
import {
  type ClaimCost,
  type WarrantyJob,
  type WarrantyOptions,
  warrantyExposure,
} from '../core/statistics/survival/warranty-exposure.ts'

/** A job of ours that was handed back under a warranty. */
export interface PromisedJob {
  id: string
  vehicle_id: string
  /** '' for a free-text task. */
  operation: string
  handed_back_on: CalendarDate
  warranty_days: number
  /** Null: no limit by distance. */
  warranty_km: number | null
  /** The first confirmed comeback, and what it cost the shop where that is known. */
  comeback: { on: CalendarDate; cost_minor: number | null } | null
}

/** The odometer records of a vehicle, each with the instant (ms) at which it was written down; null: imported. */
export interface KnownRecord {
  record: LifeRecord
  known_at: number | null
}

/** What was known at a time. */
export interface KnownThen {
  asOf: CalendarDate
  before: number
}

/** Kilometres a day, by vehicle: the median slope of its readings; the fleet's median where it has fewer than two. */
export function usageOf(
  lives: ReadonlyMap<string, readonly KnownRecord[]>,
  { asOf, before }: KnownThen,
): (vehicleId: string) => number | null {
  const own = new Map<string, number>()
  for (const [vehicle, records] of lives) {
    const known = records.flatMap(({ record, known_at }) => (known_at === null || known_at < before ? [record] : []))
    const slope = theilSen(
      thinned(odometerLine(known, dayNumber(asOf)).total).map(({ day, km }) => ({ x: day, y: km })),
    )
    if (slope !== null) own.set(vehicle, slope)
  }
  const fleet = own.size === 0 ? null : quantileType7(Float64Array.from(own.values()).sort(), 0.5)
  return vehicle => own.get(vehicle) ?? fleet
}

/** All slopes between more readings than these would be too many; then every second, third … is enough. */
const MOST_READINGS = 1000

function thinned<T>(readings: readonly T[]): readonly T[] {
  const every = Math.ceil(readings.length / MOST_READINGS)
  return every <= 1 ? readings : readings.filter((_, place) => place % every === 0)
}

/** A job as core sees it: its age, the end of its warranty and its comeback in days from hand-back. */
function watchedJob(job: PromisedJob, operation: number, asOf: CalendarDate, kmPerDay: number | null): WarrantyJob {
  const handedBackDay = dayNumber(job.handed_back_on)
  const end = warrantyEnd({
    handedBackDay,
    untilDay: handedBackDay + job.warranty_days,
    limitKm: job.warranty_km,
    kmPerDay,
  })
  return {
    operation,
    age: dayNumber(asOf) - handedBackDay,
    end: end - handedBackDay,
    comebackAt: job.comeback === null ? null : dayNumber(job.comeback.on) - handedBackDay,
  }
}

/** All that exposure is worked out from at one time, operations by the order of their names. */
function exposureInput(jobs: readonly PromisedJob[], usage: (vehicleId: string) => number | null, asOf: CalendarDate) {
  const operations = [...new Set(jobs.map(job => job.operation))].sort()
  const numberOf = new Map(operations.map((operation, place) => [operation, place]))
  const watched = jobs.map(job => watchedJob(job, numberOf.get(job.operation)!, asOf, usage(job.vehicle_id)))
  const costs = jobs.flatMap((job, place): ClaimCost[] => {
    const { comebackAt, end, operation } = watched[place]!
    const isClaim = comebackAt !== null && comebackAt <= end
    return isClaim && job.comeback?.cost_minor != null ? [{ operation, cost_minor: job.comeback.cost_minor }] : []
  })
  return { operations, watched, costs }
}

/** What the promises may still cost, with the names of the operations. */
export function exposureOf(
  jobs: readonly PromisedJob[],
  usage: (vehicleId: string) => number | null,
  asOf: CalendarDate,
  options: WarrantyOptions = {},
) {
  const { operations, watched, costs } = exposureInput(jobs, usage, asOf)
  const { open: _, ...exposure } = warrantyExposure(watched, costs, options)
  return {
    ...exposure,
    operations: exposure.operations.map(row => ({ ...row, operation: operations[row.operation]! })),
  }
}

/** By the id of each job whose promise runs: the chance that it is still claimed, and what a claim costs on average. */
export function risks(
  jobs: readonly PromisedJob[],
  usage: (vehicleId: string) => number | null,
  asOf: CalendarDate,
): Map<string, { chance: number; mean_cost_minor: number }> {
  const { watched, costs } = exposureInput(jobs, usage, asOf)
  const { open } = warrantyExposure(watched, costs)
  return new Map(
    jobs.flatMap(({ id }, place) => {
      const risk = open[place]
      return risk == null ? [] : [[id, risk] as const]
    }),
  )
}

/** A promise that still runs, with the day on which it is expected to end at the vehicle's usage. */
export interface OpenPromise {
  job: PromisedJob
  ends_on: CalendarDate
}

/** The promises that run on a day and have not been claimed, soonest end first. */
export function openPromises(
  jobs: readonly PromisedJob[],
  usage: (vehicleId: string) => number | null,
  asOf: CalendarDate,
): OpenPromise[] {
  return jobs
    .flatMap(job => {
      const { age, end, comebackAt } = watchedJob(job, 0, asOf, usage(job.vehicle_id))
      const isClaimed = comebackAt !== null && comebackAt <= Math.min(age, end)
      return age > end || isClaimed ? [] : [{ job, ends_on: addDays(job.handed_back_on, end) }]
    })
    .sort((one, other) => one.ends_on.localeCompare(other.ends_on) || one.job.id.localeCompare(other.job.id))
}

/** Jobs that were open at a cut-off and claimed in the days after it, as known later. */
export function claimsAfter(
  jobs: readonly PromisedJob[],
  usage: (vehicleId: string) => number | null,
  cutoff: CalendarDate,
  horizonDays: number,
  comebackOf: (jobId: string) => CalendarDate | null,
): number {
  const { watched } = exposureInput(jobs, usage, cutoff)
  return jobs.filter((job, place) => {
    const { age, end, comebackAt } = watched[place]!
    const on = comebackOf(job.id)
    if (age > end || (comebackAt !== null && comebackAt <= Math.min(age, end)) || on === null) return false
    const at = dayNumber(on) - dayNumber(job.handed_back_on)
    return at > age && at <= Math.min(end, age + horizonDays)
  }).length
}

/** The last days of the months from one day to another. */
export function monthEnds(from: CalendarDate, to: CalendarDate): CalendarDate[] {
  const ends: CalendarDate[] = []
  for (let day = monthBounds(monthOf(from)).last; day <= to; day = monthBounds(monthOf(addDays(day, 1))).last) {
    if (day >= from) ends.push(day)
    if (day >= '9999-12-31') break
  }
  return ends
}

import { settingsOf } from '../../accounts/index.ts'
import { costOfComeback, type FirstComeback, firstComebacks } from '../../comebacks/index.ts'
import { dayNumber } from '../../core/calendar.ts'
import type { LifeRecord } from '../../core/statistics/recurrence/vehicle-life.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import type { WarrantyExposure, WarrantyExposureQuery } from '../contract.ts'
import { promisedJobs, type ReadingRow, readings } from '../queries.ts'
import { exposureOf, type KnownRecord, type KnownThen, type PromisedJob, usageOf } from '../rules.ts'

const METHOD =
  'Nelson–Aalen hazard of all jobs, multipliers of operations after Marshall (1991), exact Poisson-binomial quantiles of claims; money by 10 000 seeded draws.'

/** What our promises on jobs may still cost: expected claims and money, with their 5, 50 and 95 % points. */
export function warrantyExposures(ctx: Context, query: WarrantyExposureQuery): WarrantyExposure {
  const known = asKnown(ctx, query.as_of)
  const usage = usageOf(livesOf(readings(ctx.read)), known)
  const jobs = jobsAsKnown(ctx, known, comeback => costOfComeback(ctx, comeback, known.before))
  return { as_of: known.asOf, method: METHOD, ...exposureOf(jobs, usage, known.asOf) }
}

/** Jobs under a promise, as known then: without a term an imported one has the settings', one of our own none. */
export function jobsAsKnown(
  ctx: Context,
  known: KnownThen,
  costOf: (comeback: FirstComeback) => number | null,
): PromisedJob[] {
  const settings = settingsOf(ctx)
  const comebacks = firstComebacks(ctx, known)
  return promisedJobs(ctx.read, known).flatMap(row => {
    const comeback = comebacks.get(row.id)
    const isImported = row.is_imported === 1
    const warranty_days = row.warranty_days ?? (isImported ? settings.warranty_days : null)
    if (warranty_days === null) return []
    return [
      {
        id: row.id,
        vehicle_id: row.vehicle_id,
        operation: row.operation ?? '',
        handed_back_on: row.handed_back_on,
        warranty_days,
        warranty_km: row.warranty_km ?? (isImported ? settings.warranty_km : null),
        comeback: comeback === undefined ? null : { on: comeback.on, cost_minor: costOf(comeback) },
      },
    ]
  })
}

/** Readings by vehicle, as records of its life. */
export function livesOf(rows: readonly ReadingRow[]): Map<string, KnownRecord[]> {
  const lives = new Map<string, KnownRecord[]>()
  for (const { vehicle_id, date, distance_km: km, is_in_service, display_replaced, known_at } of rows) {
    const day = dayNumber(date)
    const record: LifeRecord =
      is_in_service === 1
        ? { kind: 'in_service', day, km }
        : { kind: 'seen', day, km, display_replaced: display_replaced === 1 }
    const own = lives.get(vehicle_id)
    if (own === undefined) lives.set(vehicle_id, [{ record, known_at }])
    else own.push({ record, known_at })
  }
  return lives
}

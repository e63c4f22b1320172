import type { LifeRecord } from './vehicle-life.ts'

/** The distance a vehicle has driven by a day, whatever display showed it. */
export interface OdometerReading {
  day: number
  km: number
}

interface Reading extends OdometerReading {
  replaced: boolean
}

function readingOf(record: LifeRecord, asOf: number): Reading | null {
  if (record.day === null || record.day > asOf) return null
  const km = record.kind === 'in_service' ? (record.km ?? 0) : record.km
  if (km === null) return null
  if (!(km >= 0 && Number.isFinite(km))) throw new RangeError('odometerLine requires readings of zero or more')
  return { day: record.day, km, replaced: record.kind === 'seen' && record.display_replaced === true }
}

/** The readings that count, and those that are left out because they lie below an earlier one. */
export interface OdometerLine {
  total: OdometerReading[]
  /** As the display showed them. */
  backwards: OdometerReading[]
}

/**
 * The readings of a vehicle that count, at most one a day, on one running total: those below an earlier one are left out,
 * except that a replaced display starts again from the total it was replaced at. On the day it is replaced the old
 * display's readings come first; of several on one day the greatest counts. An `in_service` record without one reads 0.
 *
 * @param asOf a day; later records are not seen.
 * @throws RangeError for a reading below zero.
 */
export function odometerLine(records: readonly LifeRecord[], asOf: number): OdometerLine {
  const readings = records.flatMap(record => readingOf(record, asOf) ?? [])
  readings.sort((a, b) => a.day - b.day || Number(a.replaced) - Number(b.replaced) || a.km - b.km)
  const total: OdometerReading[] = []
  const backwards: OdometerReading[] = []
  let before = 0
  let last = 0
  for (const { day, km, replaced } of readings) {
    if (replaced) before = last
    if (before + km < last) {
      backwards.push({ day, km })
      continue
    }
    last = before + km
    if (total.at(-1)?.day === day) total.pop()
    total.push({ day, km: last })
  }
  return { total, backwards }
}

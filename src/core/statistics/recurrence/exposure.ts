import { DOERS, type Doer } from '../../vocabulary.ts'
import { type Clock, type LifeRecord, PLACES, type VehicleLife } from './vehicle-life.ts'
import { vehicleTime } from './vehicle-time.ts'

/** How prior work is held against later failures. */
export interface ExposureOptions {
  clock: Clock
  /** How long work exposes: days, or km by distance; null: to the end of what is known. */
  window: number | null
  /** Count only work done by these as prior work; null: by anybody. */
  by: Doer | null
  /** The last day that is seen. */
  asOf: number
}

/** A failure on one vehicle on one day, however often it was written down. */
export interface FailureOnClock {
  failure: number
  day: number
  place: number
  /** What its rows state that it cost; null when none states it. */
  cost_minor: number | null
}

/** A failure in the exposed time of an operation, and the latest such work before it. */
export interface ExposedFailure {
  failure: FailureOnClock
  /** From that work to the failure, in days or millimetres; null when only undated work exposes it. */
  delay: number | null
  by: Doer
}

/** What one operation exposes on one vehicle. */
export interface OperationExposure {
  operation: number
  exposedTime: number
  unexposedTime: number
  failures: ExposedFailure[]
}

/** One vehicle split into exposed and unexposed time, operation by operation; times in days or millimetres. */
export interface LifeExposure {
  time: number
  failures: FailureOnClock[]
  operations: OperationExposure[]
}

interface Work {
  day: number
  place: number
  by: number
}

interface Works {
  dated: Work[]
  /** Who did it undated, by place in DOERS: the first of them; null when none is undated. */
  undatedBy: number | null
}

type Place = (day: number) => number

/** More than any caller's number of failures: a day and a failure make one key below 2^53. */
const FAILURES = 2 ** 31

function failuresOf(records: readonly LifeRecord[], placeOf: Place, asOf: number): FailureOnClock[] {
  const failures = new Map<number, FailureOnClock>()
  for (const record of records) {
    if (record.kind !== 'failure' || record.day > asOf) continue
    const { failure, day, cost_minor } = record
    const same = failures.get(day * FAILURES + failure)
    if (same === undefined) failures.set(day * FAILURES + failure, { failure, day, place: placeOf(day), cost_minor })
    else if (cost_minor !== null) same.cost_minor = (same.cost_minor ?? 0) + cost_minor
  }
  return [...failures.values()]
}

function worksOf(records: readonly LifeRecord[], placeOf: Place, options: ExposureOptions): Map<number, Works> {
  const works = new Map<number, Works>()
  for (const record of records) {
    if (record.kind !== 'work' || (options.by !== null && record.by !== options.by)) continue
    if (record.day !== null && record.day > options.asOf) continue
    const same = works.get(record.operation) ?? { dated: [], undatedBy: null }
    works.set(record.operation, same)
    const by = DOERS.indexOf(record.by)
    if (record.day === null) same.undatedBy = Math.min(by, same.undatedBy ?? by)
    else same.dated.push({ day: record.day, place: placeOf(record.day), by })
  }
  // The latest work before a failure is then the last one at a lesser place: equal places by date, equal days by whom.
  for (const { dated } of works.values()) dated.sort((a, b) => a.place - b.place || a.day - b.day || b.by - a.by)
  return works
}

/**
 * The time inside and outside the windows after each dated work, overlaps merged and cut at `end`. Both are summed from
 * the intervals themselves: a difference would leave a speck of time, and with it a stratum, where there is none.
 */
function splitTime(dated: readonly Work[], window: number, start: number, end: number): [number, number] {
  let exposed = 0
  let unexposed = 0
  let reached = start
  for (const { place } of dated) {
    const until = Math.min(place + window, end)
    if (place > reached) {
      unexposed += place - reached
      reached = place
    }
    if (until > reached) {
      exposed += until - reached
      reached = until
    }
  }
  return [exposed, unexposed + end - reached]
}

/** The last work that lies before a place, or undefined. */
function latestBefore(dated: readonly Work[], place: number): Work | undefined {
  let low = 0
  let high = dated.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (dated[middle]!.place < place) low = middle + 1
    else high = middle
  }
  return dated[low - 1]
}

function windowOf({ clock, window }: ExposureOptions): number {
  if (window === null) return Number.POSITIVE_INFINITY
  return clock === 'days' ? window : Math.round(window * PLACES.distance)
}

/**
 * One vehicle's observed time, from its first dated record to its last, split by each operation done on it. Time is
 * exposed in (a, a + window] after each dated work at a, overlaps merged; undated work exposes the whole of (first, last].
 * A failure is exposed when its place lies in that set: at the place of the work itself, or at the first record, it does
 * not.
 *
 * Source: person-time split at a time-varying exposure, Rothman, Greenland & Lash (2008) Modern Epidemiology, chapter 7.
 *
 * @returns null when the vehicle has no time on this clock (no dated record, or no reading by distance).
 */
export function exposure(life: VehicleLife, options: ExposureOptions): LifeExposure | null {
  const clocked = vehicleTime(life.records, options.clock, options.asOf)
  if (clocked === null) return null
  const { placeOf } = clocked
  const start = placeOf(clocked.firstDay)
  const end = placeOf(clocked.lastDay)
  const window = windowOf(options)
  const failures = failuresOf(life.records, placeOf, options.asOf)
  const operations: OperationExposure[] = []
  for (const [operation, { dated, undatedBy }] of worksOf(life.records, placeOf, options)) {
    const [exposedTime, unexposedTime] = undatedBy === null ? splitTime(dated, window, start, end) : [end - start, 0]
    const exposed: ExposedFailure[] = []
    for (const failure of failures) {
      const latest = latestBefore(dated, failure.place)
      const within =
        undatedBy === null ? latest !== undefined && failure.place <= latest.place + window : failure.place > start
      if (!within) continue
      exposed.push({
        failure,
        delay: latest === undefined ? null : failure.place - latest.place,
        by: DOERS[latest?.by ?? undatedBy!]!,
      })
    }
    operations.push({ operation, exposedTime, unexposedTime, failures: exposed })
  }
  return { time: end - start, failures, operations }
}

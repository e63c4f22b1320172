import { type OdometerReading, odometerLine } from './odometer-readings.ts'
import { type Clock, type LifeRecord, PLACES } from './vehicle-life.ts'

/** The observed time of one vehicle, and where each day of it lies on the clock. */
export interface VehicleTime {
  /** The days of the first and the last dated record. */
  firstDay: number
  lastDay: number
  /** The place of a day on the clock, a whole number: the day itself, or the odometer on it in millimetres. */
  placeOf(day: number): number
}

/** In km: straight lines by date between the readings, flat before the first and beyond the last. */
function odometer(readings: readonly OdometerReading[]): (day: number) => number {
  return day => {
    let low = 0
    let high = readings.length
    while (low < high) {
      const middle = (low + high) >> 1
      if (readings[middle]!.day <= day) low = middle + 1
      else high = middle
    }
    const before = readings[low - 1]
    const after = readings[low]
    if (before === undefined) return after!.km
    if (after === undefined || before.day === day) return before.km
    return before.km + ((after.km - before.km) * (day - before.day)) / (after.day - before.day)
  }
}

/**
 * One vehicle's clock, from its records dated up to `asOf`. By days a place is the day. By distance it is the odometer:
 * a record without a reading gets one by straight line between its neighbours, and an `in_service` record without one
 * reads 0.
 *
 * @param asOf a day; later records are not seen, and time ends at the last record that is.
 * @returns null when no record is dated by then or, by distance, none has a reading.
 * @throws RangeError for a reading below zero.
 */
export function vehicleTime(records: readonly LifeRecord[], clock: Clock, asOf: number): VehicleTime | null {
  let firstDay = Number.POSITIVE_INFINITY
  let lastDay = Number.NEGATIVE_INFINITY
  for (const record of records) {
    if (record.day === null || record.day > asOf) continue
    if (record.day < firstDay) firstDay = record.day
    if (record.day > lastDay) lastDay = record.day
  }
  if (firstDay > lastDay) return null
  if (clock === 'days') return { firstDay, lastDay, placeOf: day => day }
  const { total } = odometerLine(records, asOf)
  if (total.length === 0) return null
  const kmOf = odometer(total)
  return { firstDay, lastDay, placeOf: day => Math.round(kmOf(day) * PLACES.distance) }
}

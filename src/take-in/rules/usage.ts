import { addDays, type CalendarDate, dayNumber } from '../../core/calendar.ts'
import { theilSen } from '../../core/statistics/screening/theil-sen.ts'

export interface UsageReading {
  on: CalendarDate
  distance_km: number
  display_replaced: boolean
}

/** How a vehicle is driven, from its readings. */
export interface Usage {
  km_per_day: number
  /** On how many days it was read: it is the middle of the slopes between any two of them. */
  days_read: number
  last: { on: CalendarDate; distance_km: number }
}

/** Of a vehicle that is read every day for years, the newest are enough. */
const NEWEST = 200

/**
 * The Theil–Sen slope of the readings, in km a day. Where an instrument was replaced, the distance goes on from the last
 * reading of the old one. Null with fewer than two days, and for a vehicle that went backwards on the whole.
 */
export function usageOf(readings: readonly UsageReading[]): Usage | null {
  const sorted = [...readings]
    .sort(
      (one, other) =>
        one.on.localeCompare(other.on) ||
        Number(one.display_replaced) - Number(other.display_replaced) ||
        one.distance_km - other.distance_km,
    )
    .slice(-NEWEST)
  const last = sorted.at(-1)
  if (last === undefined) return null
  let before = 0
  let total = 0
  const points = sorted.map(({ on, distance_km, display_replaced }) => {
    if (display_replaced) before = total
    total = before + distance_km
    return { x: dayNumber(on), y: total }
  })
  const km_per_day = theilSen(points)
  if (km_per_day === null || km_per_day < 0) return null
  return {
    km_per_day,
    days_read: new Set(points.map(({ x }) => x)).size,
    last: { on: last.on, distance_km: last.distance_km },
  }
}

/** What its odometer should show on a day if it was driven as before, to ten km. */
export function expectedKm({ km_per_day, last }: Usage, on: CalendarDate): number {
  return Math.round((last.distance_km + km_per_day * (dayNumber(on) - dayNumber(last.on))) / 10) * 10
}

/** The day on which it should reach a distance; null when it stands still, or for a day beyond all calendars. */
export function dayAtKm({ km_per_day, last }: Usage, km: number): CalendarDate | null {
  const days = Math.ceil((km - last.distance_km) / km_per_day)
  return Number.isFinite(days) && days < 36_500 ? addDays(last.on, days) : null
}

import { type CalendarDate, dateOfDay, dayNumber } from '../../core/calendar.ts'
import { odometerLine } from '../../core/statistics/recurrence/odometer-readings.ts'
import type { LifeRecord } from '../../core/statistics/recurrence/vehicle-life.ts'
import type { UsageReading } from './usage.ts'

/** Where a vehicle stood on a day: all it had been driven, whatever its display showed. */
export interface Driven {
  km: number
  /** Nobody read it that day: it lies on the straight line between two readings. */
  is_estimated: boolean
}

export interface DrivenLine {
  /** Null before the first reading and beyond the last: nobody knows. */
  drivenOn(on: CalendarDate): Driven | null
  /** Whether a display showed less than before, though nobody says that it was replaced. */
  runsBackwards(on: CalendarDate, distanceKm: number): boolean
  /** An instrument was replaced: from then on the display shows less than the vehicle was driven. */
  was_replaced: boolean
}

/**
 * The line of distance of a vehicle, from its readings; it begins at zero on the day it went into service, if that is known.
 */
export function drivenLine(readings: readonly UsageReading[], inServiceOn: CalendarDate | null): DrivenLine {
  const records = readings.map(({ on, distance_km, display_replaced }): LifeRecord => {
    return { kind: 'seen', day: dayNumber(on), km: distance_km, display_replaced }
  })
  if (inServiceOn !== null) records.push({ kind: 'in_service', day: dayNumber(inServiceOn), km: null })
  const { total, backwards } = odometerLine(records, Number.POSITIVE_INFINITY)
  const wrong = new Set(backwards.map(({ day, km }) => `${dateOfDay(day)} ${km}`))
  return {
    was_replaced: readings.some(reading => reading.display_replaced),
    runsBackwards: (on, distanceKm) => wrong.has(`${on} ${distanceKm}`),
    drivenOn(on) {
      const day = dayNumber(on)
      const after = total.findIndex(reading => reading.day >= day)
      const next = total[after]
      if (next === undefined) return null
      if (next.day === day) return { km: next.km, is_estimated: false }
      const before = total[after - 1]
      if (before === undefined) return null
      const share = (day - before.day) / (next.day - before.day)
      return { km: before.km + (next.km - before.km) * share, is_estimated: true }
    },
  }
}

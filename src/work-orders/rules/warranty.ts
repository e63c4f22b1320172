import { addDays, type CalendarDate } from '../../core/calendar.ts'
import { sumDecimals } from '../../core/decimal.ts'

/** Our promise on a job: until a day, and until a distance where the odometer was read at hand-back. */
export interface WarrantyTerm {
  until_on?: CalendarDate
  until_km?: number
}

/** The term of a job that was handed back; no member where the job was given no such limit. */
export function warrantyTerm(
  job: { warranty_days: number | null; warranty_km: number | null },
  handBack: { on: CalendarDate; odometer_km: number | null },
): WarrantyTerm {
  const { warranty_days: days, warranty_km: km } = job
  return {
    ...(days !== null && { until_on: addDays(handBack.on, days) }),
    ...(km !== null && handBack.odometer_km !== null && { until_km: sumDecimals([handBack.odometer_km, km]) }),
  }
}

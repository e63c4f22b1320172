import type { CalibrationResult } from '../vocabulary.ts'
import type { CertificatePoint } from './instrument-uncertainty.ts'

/** A certificate. `made_on` is a calendar day; `created_at`, when it was recorded, parts two of one day. */
export interface Calibration {
  made_on: string
  created_at: number
  found: CalibrationResult
  points: readonly CertificatePoint[]
}

/** The certificate that stood on a day (YYYY-MM-DD): the last made on or before it, of one day the last recorded; or null. */
export function calibrationOn<T extends Calibration>(calibrations: readonly T[], day: string): T | null {
  return calibrations
    .filter(calibration => calibration.made_on <= day)
    .reduce<T | null>((last, next) => {
      if (last === null || next.made_on > last.made_on) return next
      return next.made_on === last.made_on && next.created_at > last.created_at ? next : last
    }, null)
}

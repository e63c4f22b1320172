import type { CertificatePoint } from './instrument-uncertainty.ts'
import type { Check } from './known-good.ts'

/** A certificate: a check with what it measured. */
export interface Calibration extends Check {
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

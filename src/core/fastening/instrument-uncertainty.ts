import { toolClassShare } from './tool-class.ts'

/** A point of a calibration certificate: expanded uncertainty (k = 2) in N·m at a torque in N·m. */
export interface CertificatePoint {
  at_nm: number
  uncertainty_nm: number
}

/** What is known of a tool's uncertainty: the points of its certificate, else its class after ISO 6789. */
export interface InstrumentFacts {
  max_nm: number
  class: string | null
  points: readonly CertificatePoint[]
}

/**
 * Expanded uncertainty U (k = 2) of a torque tool at a value, in N·m: from its certificate, linear between the points and
 * the nearest beyond them; without a certificate its class stands in for U (ISO 6789: 4 % of the value, 6 % for a tool
 * whose maximum is 10 N·m or less: the limit goes by the tool, not by the reading); else null, which is unknown: a class that is none of the
 * standard's gives no number. Where a
 * certificate gives one torque twice the larger uncertainty stands.
 *
 * @throws RangeError when the value is below zero or not finite.
 */
export function instrumentUncertainty(valueNm: number, instrument: InstrumentFacts): number | null {
  if (!(valueNm >= 0 && Number.isFinite(valueNm)))
    throw new RangeError('instrumentUncertainty requires a value of zero or more')
  if (instrument.points.length === 0) {
    const share = toolClassShare(instrument.class, instrument.max_nm)
    return share === null ? null : valueNm * share
  }

  const points = [...instrument.points].sort(
    (one, other) => one.at_nm - other.at_nm || one.uncertainty_nm - other.uncertainty_nm,
  )
  const below = points.findLast(point => point.at_nm <= valueNm)
  const exact = below?.at_nm === valueNm
  const above = points.find(point => point.at_nm > valueNm)
  if (below === undefined) return points.findLast(point => point.at_nm === above!.at_nm)!.uncertainty_nm
  if (above === undefined || exact) return below.uncertainty_nm
  const next = points.findLast(point => point.at_nm === above.at_nm)!
  const along = (valueNm - below.at_nm) / (next.at_nm - below.at_nm)
  return below.uncertainty_nm + along * (next.uncertainty_nm - below.uncertainty_nm)
}

/** A number of a certificate that cannot be right, by its JSON pointer. */
export interface CertificateFault {
  pointer: string
  detail: string
  code: string
}

interface StatedPoint {
  at_nm: number
  uncertainty_nm: number
  reference_nm?: number | undefined
}

/** No torque tool in use is worse than this share of the value; more is a slip of typing. */
const MOST_UNCERTAIN = 0.2
/** How far a point may lie beyond the range, and the reference from the point, before one of them must be mistyped. */
const FACTOR = 2

/** Slips of typing in the points of a certificate, each beside its field: refused, since every later verdict would rest on them. */
export function pointFaults(
  range: { min_nm: number; max_nm: number },
  points: readonly StatedPoint[],
): CertificateFault[] {
  return points.flatMap((point, at) => faultsOfPoint(range, points, point, at))
}

function faultsOfPoint(
  { min_nm, max_nm }: { min_nm: number; max_nm: number },
  points: readonly StatedPoint[],
  { at_nm, uncertainty_nm, reference_nm }: StatedPoint,
  at: number,
): CertificateFault[] {
  const faults: CertificateFault[] = []
  const fault = (field: keyof StatedPoint, code: string, detail: string) =>
    faults.push({ pointer: `/points/${at}/${field}`, detail, code })
  if (points.findIndex(other => other.at_nm === at_nm) !== at)
    fault('at_nm', 'twice', `${at_nm} N·m stands here twice. Keep one of them.`)
  if (at_nm > FACTOR * max_nm || at_nm < min_nm / FACTOR)
    fault(
      'at_nm',
      'out_of_range',
      `${at_nm} N·m lies far outside the range of this wrench, ${min_nm} to ${max_nm} N·m. Look whether it is the right certificate, and the right unit.`,
    )
  if (uncertainty_nm > MOST_UNCERTAIN * at_nm) {
    const share = Math.round((100 * uncertainty_nm) / at_nm)
    fault(
      'uncertainty_nm',
      'too_large',
      `U = ${uncertainty_nm} N·m at ${at_nm} N·m is ${share} % of the value; more than 20 % cannot be right. Give the U of the certificate, in N·m.`,
    )
  }
  if (reference_nm !== undefined && (reference_nm > FACTOR * at_nm || reference_nm < at_nm / FACTOR))
    fault(
      'reference_nm',
      'out_of_range',
      `A reference of ${reference_nm} N·m cannot belong to ${at_nm} N·m. Give what the reference showed when the wrench stood at ${at_nm} N·m.`,
    )
  return faults
}

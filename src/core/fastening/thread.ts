/** Diameters of an ISO metric thread in mm, and its nominal stress area in mm². */
export interface Thread {
  pitch_diameter_mm: number
  minor_diameter_mm: number
  root_diameter_mm: number
  stress_area_mm2: number
}

/** Whether a thread of that diameter and pitch, in mm, has any root left: d3 = d − 1.226869 P (ISO 724). */
export function leavesRoot(diameterMm: number, pitchMm: number): boolean {
  return diameterMm - 1.226869 * pitchMm > 0
}

/**
 * Basic profile of an ISO metric thread (ISO 724): d2 = d − 0.649519 P, d1 = d − 1.082532 P, root d3 = d − 1.226869 P;
 * nominal stress area A_s = π/4·((d2 + d3)/2)² (ISO 898-1), not rounded.
 *
 * @throws RangeError when diameter or pitch is not above zero, or the pitch leaves no root.
 */
export function thread(diameterMm: number, pitchMm: number): Thread {
  if (!(diameterMm > 0 && Number.isFinite(diameterMm))) throw new RangeError('thread requires a diameter above zero')
  if (!(pitchMm > 0)) throw new RangeError('thread requires a pitch above zero')
  const pitchDiameterMm = diameterMm - 0.649519 * pitchMm
  const rootDiameterMm = diameterMm - 1.226869 * pitchMm
  if (!leavesRoot(diameterMm, pitchMm)) throw new RangeError('thread requires a pitch small enough to leave a root')
  return {
    pitch_diameter_mm: pitchDiameterMm,
    minor_diameter_mm: diameterMm - 1.082532 * pitchMm,
    root_diameter_mm: rootDiameterMm,
    stress_area_mm2: (Math.PI / 4) * ((pitchDiameterMm + rootDiameterMm) / 2) ** 2,
  }
}

import type { OdometerUnit, TighteningUnit } from './vocabulary.ts'

/** Units that people read off a wrench, a gauge or an odometer. Torque is kept in N·m, angle in degrees, distance in km. */
export type Unit = TighteningUnit | OdometerUnit

/** 1 lbf·ft = 1.355 817 948 331 400 4 N·m, from the exact foot and pound-force. */
const LBF_FT_NM = 0.3048 * 4.4482216152605

/** The size of one unit in N·m, degrees or km. NIST SP 811 (2008), App. B.8; kilogram-force and mile are exact. */
const SIZE: Record<Unit, number> = {
  'N.m': 1,
  'kgf.m': 9.80665,
  'lbf.ft': LBF_FT_NM,
  'lbf.in': LBF_FT_NM / 12,
  deg: 1,
  km: 1,
  mi: 1.609344,
}

/** A value in its unit, as N·m, degrees or km. @throws RangeError when it is not finite. */
export function toSi(value: number, unit: Unit): number {
  if (!Number.isFinite(value)) throw new RangeError('toSi requires a finite value')
  return value * SIZE[unit]
}

/** N·m, degrees or km as a value in the unit. @throws RangeError when it is not finite. */
export function fromSi(valueSi: number, unit: Unit): number {
  if (!Number.isFinite(valueSi)) throw new RangeError('fromSi requires a finite value')
  return valueSi / SIZE[unit]
}

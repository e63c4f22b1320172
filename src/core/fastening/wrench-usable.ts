import { addMonths } from '../calendar.ts'
import { type Calibration, calibrationOn } from './calibration-on.ts'
import { type Incident, standsOn } from './known-good.ts'
import { toolClassShare } from './tool-class.ts'

/** Why a wrench may not be used. An empty list of these means that it may. */
export type WrenchTrouble =
  | 'below_its_range'
  | 'above_its_range'
  | 'never_calibrated'
  | 'found_outside'
  | 'calibration_overdue'
  | 'cycles_used_up'
  | 'withdrawn'

/**
 * A torque tool with what was recorded about it. `min_nm` is its lowest mark, null when it has none. `in_use_since` is the
 * day of its first use: a tool of a class comes with its maker's declaration, which runs from there. `cycles` are those
 * since the last certificate, null when nobody counts. A withdrawal (drop, overload) lasts until a good calibration after it.
 */
export interface WrenchFacts {
  min_nm: number | null
  max_nm: number
  class: string | null
  calibrations: readonly Calibration[]
  withdrawals: readonly Incident[]
  in_use_since: string | null
  cycles: number | null
}

/** How long a calibration holds: months or cycles, whichever is first. The shop's own rule; ISO 6789 proposes 12 and 5 000. */
export interface CalibrationRule {
  months: number
  cycles: number
}

/**
 * Whether a torque tool could be used at a torque on a day, as the list of what speaks against it. Usable from 20 % of its
 * maximum (or from its lowest mark, where it has one) to 100 %; in calibration for the months or cycles of the shop's rule,
 * whichever is first, the day it falls due included; not after it was found outside, dropped or overloaded (ISO 6789).
 *
 * @throws RangeError when the torque is not above zero.
 */
export function wrenchUsable(
  wrench: WrenchFacts,
  valueNm: number,
  day: string,
  rule: CalibrationRule,
): WrenchTrouble[] {
  if (!(valueNm > 0)) throw new RangeError('wrenchUsable requires a torque above zero')
  const troubles: WrenchTrouble[] = []
  const dust = 1e-9 * wrench.max_nm
  if (valueNm < (wrench.min_nm ?? 0.2 * wrench.max_nm) - dust) troubles.push('below_its_range')
  if (valueNm > wrench.max_nm + dust) troubles.push('above_its_range')

  const calibration = calibrationOn(wrench.calibrations, day)
  const runsFrom = calibration?.made_on ?? wrench.in_use_since
  if (calibration === null && toolClassShare(wrench.class, wrench.max_nm) === null) troubles.push('never_calibrated')
  else if (calibration?.found === 'outside') troubles.push('found_outside')
  else if (runsFrom !== null && day > addMonths(runsFrom, rule.months)) troubles.push('calibration_overdue')
  if (wrench.cycles !== null && wrench.cycles >= rule.cycles) troubles.push('cycles_used_up')

  if (wrench.withdrawals.some(withdrawal => standsOn(wrench.calibrations, withdrawal, day))) troubles.push('withdrawn')
  return troubles
}

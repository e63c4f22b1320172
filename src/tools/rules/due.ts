import { addMonths, daysBetween } from '../../core/calendar.ts'
import { calibrationOn } from '../../core/fastening/calibration-on.ts'
import { toolClassShare } from '../../core/fastening/tool-class.ts'
import {
  type CalibrationRule,
  type WrenchFacts,
  type WrenchTrouble,
  wrenchUsable,
} from '../../core/fastening/wrench-usable.ts'

/** From here on it is said that a calibration is due soon: as many days, or this share of the cycles, are left. */
const SOON_DAYS = 31
const SOON_SHARE = 0.1

/** The last day of a wrench's calibration, as known on a day; null when nothing runs. */
export function dueOn(facts: WrenchFacts, day: string, rule: CalibrationRule): string | null {
  const certificate = calibrationOn(facts.calibrations, day)
  if (certificate?.found === 'outside') return null
  const hasClass = toolClassShare(facts.class, facts.max_nm) !== null
  const runsFrom = certificate?.made_on ?? (hasClass ? facts.in_use_since : null)
  return runsFrom === null ? null : addMonths(runsFrom, rule.months)
}

/** What speaks against a wrench on a day, whatever the torque inside its range. */
export function troubleOn(facts: WrenchFacts, day: string, rule: CalibrationRule): WrenchTrouble[] {
  return wrenchUsable(facts, facts.max_nm, day, rule)
}

/** What is left of a calibration; `cycles` is null when nobody counts them. */
export interface CalibrationLeft {
  days: number
  cycles: number | null
  /** Whichever comes first is near. */
  soon: boolean
}

/** Null when nothing runs, or nothing is left. */
export function calibrationLeft(facts: WrenchFacts, day: string, rule: CalibrationRule): CalibrationLeft | null {
  const due = dueOn(facts, day, rule)
  if (due === null) return null
  const days = daysBetween(day, due)
  const cycles = facts.cycles === null ? null : rule.cycles - facts.cycles
  if (days < 0 || (cycles !== null && cycles <= 0)) return null
  return { days, cycles, soon: days <= SOON_DAYS || (cycles !== null && cycles <= SOON_SHARE * rule.cycles) }
}

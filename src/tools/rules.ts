import { addMonths } from '../core/calendar.ts'
import { calibrationOn } from '../core/fastening/calibration-on.ts'
import type { WrenchFacts, WrenchTrouble } from '../core/fastening/wrench-usable.ts'
import { wrenchUsable } from '../core/fastening/wrench-usable.ts'

/** How long a calibration holds (ISO 6789), unless 5 000 cycles come first. */
const MONTHS = 12

/** The last day of a wrench's calibration, as known on a day; null when nothing runs. */
export function dueOn(facts: WrenchFacts, day: string): string | null {
  const certificate = calibrationOn(facts.calibrations, day)
  if (certificate?.found === 'outside') return null
  const runsFrom = certificate?.made_on ?? (facts.class === null ? null : facts.in_use_since)
  return runsFrom === null ? null : addMonths(runsFrom, MONTHS)
}

/** What speaks against a wrench on a day, whatever the torque inside its range. */
export function troubleOn(facts: WrenchFacts, day: string): WrenchTrouble[] {
  return wrenchUsable(facts, facts.max_nm, day)
}

const WORDS: Record<WrenchTrouble, string> = {
  below_its_range: 'below its range',
  above_its_range: 'above its range',
  never_calibrated: 'no certificate and no class',
  found_outside: 'found outside at its last calibration',
  calibration_overdue: 'calibration overdue',
  cycles_used_up: '5 000 cycles since its calibration',
  withdrawn: 'taken out of use',
}

/** A reason against a wrench, in words. */
export function troubleInWords(trouble: WrenchTrouble): string {
  return WORDS[trouble]
}

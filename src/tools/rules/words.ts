import { longDay } from '../../core/days.ts'
import { toolClassShare } from '../../core/fastening/tool-class.ts'
import { toolDeviation } from '../../core/fastening/tool-deviation.ts'
import type { WrenchFacts, WrenchTrouble } from '../../core/fastening/wrench-usable.ts'
import type { GaugeKind, WrenchKind } from '../../core/vocabulary.ts'
import { grouped, listed } from '../../core/words.ts'
import type { CalibrationLeft } from './due.ts'

export const KIND_WORDS: Record<WrenchKind, string> = { measures: 'measures', clicks: 'clicks' }

export const GAUGE_KIND_WORDS: Record<GaugeKind, string> = { angle_gauge: 'angle gauge', paint_mark: 'paint mark' }

const TROUBLE_WORDS: Record<WrenchTrouble, string> = {
  below_its_range: 'below its range',
  above_its_range: 'above its range',
  never_calibrated: 'no certificate, and no class that stands in for one',
  found_outside: 'found outside at its last calibration',
  calibration_overdue: 'calibration overdue',
  cycles_used_up: 'the cycles of its calibration are used up',
  withdrawn: 'taken out of use',
}

/** A reason against a wrench, in words. */
export function troubleInWords(trouble: WrenchTrouble): string {
  return TROUBLE_WORDS[trouble]
}

/** What is left of a calibration: '27 days and 1 240 cycles'. */
export function leftInWords({ days, cycles }: CalibrationLeft): string {
  const daysLeft = days === 0 ? 'today only' : `${grouped(String(days))} ${days === 1 ? 'day' : 'days'}`
  return cycles === null ? daysLeft : `${daysLeft} and ${grouped(String(cycles))} ${cycles === 1 ? 'cycle' : 'cycles'}`
}

/** How a wrench stands today, in a sentence's words. */
export function standingInWords(
  trouble: readonly WrenchTrouble[],
  due_on: string | null,
  left: CalibrationLeft | null,
): string {
  if (trouble.length > 0) return `not to be used: ${listed(trouble.map(troubleInWords))}`
  if (left === null || due_on === null) return 'may be used'
  const due = `may be used, to ${longDay(due_on)}`
  return left.soon ? `${due}: due soon, ${leftInWords(left)} left` : due
}

/** What the class of a wrench is good for, in words. */
export function classInWords({ class: toolClass, max_nm }: Pick<WrenchFacts, 'class' | 'max_nm'>): string {
  if (toolClass === null) return 'not said'
  const share = toolClassShare(toolClass, max_nm)
  return share === null
    ? `${toolClass}: not a class of ISO 6789, so it gives no number`
    : `${toolClass}: ±${Math.round(share * 100)} % where there is no certificate`
}

export function rangeInWords({ min_nm, max_nm }: { min_nm: number; max_nm: number }): string {
  return `${min_nm} to ${max_nm} N·m`
}

/** Which way the joints went at a point of a certificate: 'reads 6.4 % high: its joints got less than asked for'. */
export function deviationInWords(setOrShownNm: number, referenceNm: number): string {
  const { deviation_percent, joints_got } = toolDeviation(setOrShownNm, referenceNm)
  const size = Math.abs(deviation_percent).toFixed(1)
  if (joints_got === 'as_asked' || size === '0.0') return 'reads true: its joints got what was asked for'
  const way = joints_got === 'less' ? 'high' : 'low'
  return `reads ${size} % ${way}: its joints got ${joints_got} than asked for`
}

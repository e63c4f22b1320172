import { calibrationOn } from './calibration-on.ts'
import { instrumentUncertainty } from './instrument-uncertainty.ts'
import { provesTolerance } from './proves-tolerance.ts'
import { type CalibrationRule, type WrenchFacts, type WrenchTrouble, wrenchUsable } from './wrench-usable.ts'

/** A usable wrench; `uncertainty_nm` (k = 2) at the target, null when unknown; whether it can prove the tolerance. */
export interface WrenchInReach {
  id: string
  uncertainty_nm: number | null
  proves_tolerance: boolean
}

/** `best_first`: the usable wrenches, smallest uncertainty first. `out`: each other with every reason against it. */
export interface WrenchChoice {
  best_first: WrenchInReach[]
  out: { id: string; because: WrenchTrouble[] }[]
  can_be_proved: boolean
}

/**
 * The wrenches of the shop for a stage on a day, so that it is said before tightening, not after, that none can prove the
 * tolerance. `target_nm` is what the wrench is set to, and the limits belong to it. Where two are equally uncertain the
 * order given is kept; one whose uncertainty is not known comes last.
 *
 * @throws RangeError when the target is not above zero.
 */
export function wrenchChoice(
  stage: { target_nm: number; lower: number; upper: number },
  wrenches: readonly (WrenchFacts & { id: string })[],
  day: string,
  rule: CalibrationRule,
): WrenchChoice {
  const inReach: WrenchInReach[] = []
  const out: WrenchChoice['out'] = []
  for (const wrench of wrenches) {
    const because = wrenchUsable(wrench, stage.target_nm, day, rule)
    if (because.length > 0) {
      out.push({ id: wrench.id, because })
      continue
    }
    const points = calibrationOn(wrench.calibrations, day)?.points ?? []
    const uncertaintyNm = instrumentUncertainty(stage.target_nm, { ...wrench, points })
    inReach.push({
      id: wrench.id,
      uncertainty_nm: uncertaintyNm,
      proves_tolerance: provesTolerance(stage.lower, stage.upper, uncertaintyNm),
    })
  }
  const size = (wrench: WrenchInReach) => wrench.uncertainty_nm ?? Number.MAX_VALUE
  const bestFirst = inReach.sort((one, other) => size(one) - size(other))
  return { best_first: bestFirst, out, can_be_proved: bestFirst.some(wrench => wrench.proves_tolerance) }
}

import { provesTolerance } from './proves-tolerance.ts'

/**
 * A click wrench as it was set. `stage_set_nm` is what it ought to be set to (through an adapter not the target itself);
 * limits, and the uncertainty (k = 2) at that value, belong to the torque at the fastener. All in N·m.
 */
export interface SetVerdictInput {
  set_nm: number
  stage_set_nm: number
  scale_division_nm: number | null
  wrench_usable: boolean
  lower: number
  upper: number
  uncertainty: number | null
}

/** `counts_as_done` says whether the setting finishes the stage; a verdict `as_set` alone does not. */
export interface SetVerdict {
  verdict: 'as_set' | 'outside'
  counts_as_done: boolean
}

/**
 * Verdict of a setting: a click wrench says what it was set to, not what the joint got. `as_set` when the setting is the
 * stage's to half a scale division (to the digit, when the division is not known) and the wrench was usable that day, else
 * `outside`. It counts as done when U is at most half the width of the tolerance.
 *
 * @throws RangeError when a setting is not above zero.
 */
export function setVerdict(input: SetVerdictInput): SetVerdict {
  const { set_nm, stage_set_nm, scale_division_nm, wrench_usable, lower, upper, uncertainty } = input
  if (!(set_nm > 0 && stage_set_nm > 0)) throw new RangeError('setVerdict requires settings above zero')
  const off = Math.abs(set_nm - stage_set_nm)
  const isAsSet = wrench_usable && off <= (scale_division_nm ?? 0) / 2 + 1e-9 * stage_set_nm
  return {
    verdict: isAsSet ? 'as_set' : 'outside',
    counts_as_done: isAsSet && provesTolerance(lower, upper, uncertainty),
  }
}

import type { Fault } from './fastener-progress.ts'

/** What these ask of the state of a fastener. */
interface Standing {
  fault: Fault | null
  needs: 'nothing' | 'tighten' | 'restart' | 'replace'
  next_stage: number | null
}

/** A fault of its own, and not one for which the whole joint is done again, in its order. */
export function hasOwnFault({ fault, needs }: Pick<Standing, 'fault' | 'needs'>): boolean {
  return fault !== null && (fault.kind !== 'joint_redone' || needs === 'replace')
}

/** It is done again by itself, whenever that is: the order of the joint does not ask for it, nor against it. */
export function isRedoneAlone({ fault }: Pick<Standing, 'fault'>): boolean {
  return fault !== null && fault.rule !== 'redo_joint'
}

/**
 * It is being done again by itself and is not back where it failed: loosened with some stages done, or a new one that is in
 * and not tightened that far. Left so, it is the fastener that is forgotten.
 */
export function isHalfRedone(state: Standing): boolean {
  if (!isRedoneAlone(state) || state.needs !== 'tighten' || state.next_stage === null) return false
  return state.next_stage <= state.fault!.stage
}

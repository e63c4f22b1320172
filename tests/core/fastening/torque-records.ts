import type { FastenerRecord, JointProcedure } from '../../../src/core/fastening/fastener-progress.ts'
import type { JointState } from '../../../src/core/fastening/stages.ts'

export const torque = { kind: 'torque' } as const
export const angle = { kind: 'angle' } as const
/** Six bolts on a circle: two torques, then an angle. */
export const flange: JointProcedure = {
  stages: [torque, torque, angle],
  order: [1, 4, 2, 5, 3, 6],
  reuse: 'free',
  on_failure: 'restart',
}
export const pair: JointProcedure = { ...flange, stages: [torque, angle], order: [1, 2] }

export type Said = Partial<FastenerRecord> & { position: number; stage: number }
/** Records in order; what is not said is a reading that conforms, on the first fastener. */
export function records(...said: Said[]): FastenerRecord[] {
  const usual = { fastener: 1, event: null, lower: 38, upper: 42, uncertainty: 1, supersedes_id: null }
  return said.map((one, at) => ({ ...usual, id: `r${at + 1}`, verdict: one.event ? null : 'conforms', ...one }))
}
/** Every stage in order on one position, by one fastener. */
export const pass = (position: number, count: number, fastener = 1): Said[] =>
  Array.from({ length: count }, (_, at) => ({ position, stage: at + 1, fastener }))
export const at = (state: JointState, position: number) => state.fasteners[position - 1]!

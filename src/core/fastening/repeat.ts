import type { StageKind } from '../vocabulary.ts'

/**
 * Whether a stage is a repeat: one more torque stage to the target of the torque stage before it, whatever stands between
 * them (a gasket settles, a joint was loosened). It is recorded like any other stage; only its words say "again".
 */
export function isRepeat(stages: readonly { kind: StageKind; target: number }[], at: number): boolean {
  const stage = stages[at]
  if (stage?.kind !== 'torque') return false
  const before = stages.slice(0, at).findLast(({ kind }) => kind === 'torque')
  return before?.target === stage.target
}

import { isRedoneAlone } from '../../core/fastening/own-fault.ts'
import type { TorqueRecordInput } from '../contract.ts'
import type { LoadedJoint } from './joints.ts'

/** What the record says where nobody said why a fastener was tightened out of its turn. */
export const NO_REASON_GIVEN = 'no reason given'

/** Positions that still hold the old fastener of a temporary use, done or not. */
export function oldFasteners({ fitted, temporary_uses, records, state }: LoadedJoint): Set<number> {
  const use = temporary_uses.at(-1)
  if (!fitted.temporary || use === undefined) return new Set()
  const before = records.filter(record => record.created_at <= use.created_at)
  const isOld = ({ position, fastener }: (typeof state.fasteners)[number]) =>
    fastener <= Math.max(1, ...before.filter(record => record.position === position).map(record => record.fastener))
  return new Set(state.fasteners.filter(isOld).map(({ position }) => position))
}

/** The position whose turn it is; undefined on a joint with nothing left to do. */
export function positionInTurn(joint: LoadedJoint): number | undefined {
  const old = oldFasteners(joint)
  return joint.state.next?.position ?? joint.procedure.order.find(position => old.has(position))
}

/**
 * A reading at another position than the one whose turn it is: somebody says why. A fastener that is done again by itself, an
 * event and a correction are no question of order.
 */
export function isOutOfTurn(
  joint: LoadedJoint,
  { position, event, supersedes }: Pick<TorqueRecordInput, 'position' | 'event' | 'supersedes'>,
): boolean {
  const found = joint.state.fasteners[position - 1]
  if (event !== undefined || supersedes !== undefined || found === undefined || isRedoneAlone(found)) return false
  const turn = positionInTurn(joint)
  return turn !== undefined && turn !== position
}

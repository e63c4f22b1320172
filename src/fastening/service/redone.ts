import type { Context } from '../../platform/context.ts'
import { fittedPartsOf } from '../queries/joint-facts.ts'
import { isLater } from '../rules.ts'
import type { Cause } from './doubt-causes.ts'
import type { LoadedJoint } from './joints.ts'

/**
 * Whether a joint has been done anew since a doubt about it came out, so that nothing the cause touched counts in it any more:
 * after a bad wrench or gauge no reading of it, after a bad batch no reading at all, and as many new fasteners of another batch
 * were issued since as it has. What was tightened by a wrong procedure, or put right on paper, no tightening by the same
 * procedure mends.
 */
export function isRedone(ctx: Context, joint: LoadedJoint, cause: Cause): boolean {
  if (!joint.state.complete) return false
  const counting = new Set(joint.state.fasteners.flatMap(({ stages }) => stages.map(stage => stage.record_id)))
  const before = joint.records.filter(record => counting.has(record.id) && !isLater(record, cause))
  const { tool } = cause
  if (tool !== null) return before.every(({ wrench_id, gauge_id }) => wrench_id !== tool.id && gauge_id !== tool.id)
  return (
    cause.cause === 'batch' && before.length === 0 && issuedSince(ctx, joint, cause) >= joint.procedure.order.length
  )
}

function issuedSince(ctx: Context, { row }: LoadedJoint, cause: Cause): number {
  return fittedPartsOf(ctx.read, [row.job.id])
    .filter(part => part.joint_id === row.joint.id && part.condition === 'new' && part.batch !== null)
    .filter(part => isLater(part, cause))
    .reduce((sum, part) => sum + part.quantity, 0)
}

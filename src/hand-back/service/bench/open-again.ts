import type { Context } from '../../../platform/context.ts'
import { write } from '../../../platform/database/unit-of-work.ts'
import { type OpeningInput, openStep, planOfOrder, stepOfJob } from '../../../work-orders/index.ts'
import { factsOf } from '../standing.ts'

/** What opening a step again brings with it. */
export interface OpenedAgain {
  name: string
  /** They count again. */
  hours: number
  borne_by: 'us' | 'customer'
  /** Signed joints behind the step, which may have been disturbed; their signature stands until somebody says so. */
  signed_behind: string[]
  /** Final checks that were fine, and turning the engine by hand: they count no longer. */
  void_now: string[]
}

/** Technician. As `openStep`, which refuses what it must; with what follows from it, for the notice. */
export function openStepAgain(
  ctx: Context,
  jobId: string,
  stepId: string,
  input: OpeningInput & Pick<OpenedAgain, 'borne_by'>,
): OpenedAgain {
  return write(ctx, () => {
    const { step, plan } = stepOfJob(ctx, jobId, stepId)
    const before = factsOf(ctx, plan)
    openStep(ctx, jobId, stepId, input)
    const after = factsOf(ctx, planOfOrder(ctx, plan.order.id))
    const checks = before.final_checks.filter(
      check => check.fine === true && after.final_checks.find(each => each.id === check.id)?.fine !== true,
    )
    const isTurned = (facts: typeof before) => facts.engine.some(job => job.turned_by_hand)
    return {
      ...{ name: step.name, hours: step.hours, borne_by: input.borne_by },
      signed_behind: after.joints
        .filter(joint => joint.signed && joint.behind_step_id === step.access_step_id)
        .map(joint => joint.name),
      void_now: [
        ...checks.map(check => check.text),
        ...(isTurned(before) && !isTurned(after) ? ['the engine turned by hand'] : []),
      ],
    }
  })
}

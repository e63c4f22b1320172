import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { type Closing, type ClosingInput, insertClosing, stepOfJob } from '../../work-orders/index.ts'
import { inOneClause, stepBlockers } from '../rules/blockers.ts'
import { factsOf } from './standing.ts'

/**
 * Technician. Closes a strip-down step for all jobs of the order. 409 `step-blocked` with `blockers` while a look, tool,
 * joint or open step is behind it, of whichever job; 409 `step-not-open` when there is nothing to close.
 */
export function closeStep(ctx: Context, jobId: string, stepId: string, input: ClosingInput): Closing {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const at = stepOfJob(ctx, jobId, stepId)
    const blockers = at.shared.is_open ? stepBlockers(factsOf(ctx, at.plan), at.shared.access_step_id) : []
    if (blockers.length > 0) {
      throw problem('step-blocked', {
        detail: `"${at.step.name}" cannot be closed yet: ${inOneClause(blockers)}.`,
        extra: { blockers },
      })
    }
    const closing = insertClosing(ctx, tx, at, input)
    recordEvent(ctx, tx, { action: 'step.closed', table: 'jobs', id: jobId })
    return closing
  })
}

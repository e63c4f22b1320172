import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { type EngineTurn, type EngineTurnInput, insertEngineTurn, planOfJob } from '../../work-orders/index.ts'
import { inOneClause } from '../rules/blockers.ts'
import { engineBlockers } from '../rules/engine.ts'
import { engineFactsOf } from './standing.ts'

/**
 * Technician. The engine was turned by hand, or started. 409 `engine-blocked` with `blockers` while a tool is in any part of
 * the vehicle, a joint that was begun is not signed, or one stands on temporary fasteners; and for a start while nobody has
 * turned it by hand since the last step was opened.
 */
export function turnEngine(ctx: Context, jobId: string, input: EngineTurnInput): EngineTurn {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const blockers = engineBlockers(engineFactsOf(ctx, planOfJob(ctx, jobId), jobId), input.how)
    if (blockers.length > 0) {
      const what = input.how === 'by_hand' ? 'turned' : 'started'
      throw problem('engine-blocked', {
        detail: `The engine may not be ${what} yet: ${inOneClause(blockers)}.`,
        extra: { blockers },
      })
    }
    const turn = insertEngineTurn(ctx, tx, jobId, input)
    recordEvent(ctx, tx, {
      action: `engine.${input.how === 'by_hand' ? 'turned' : 'started'}`,
      table: 'jobs',
      id: jobId,
    })
    return turn
  })
}

import { z } from 'zod'
import { capital } from '../../../core/words.ts'
import { recordFinalCheck, recordLookResult } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import { Id, Line } from '../../../platform/contract.ts'
import type { Done } from '../../../platform/http/page-route.ts'
import { pageForm, pagePost } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { invalid } from '../../../platform/problems.ts'
import { EngineTurnInput } from '../../../work-orders/contract.ts'
import {
  completeJob,
  openStep,
  planOfJob,
  putToolIn,
  recordMark,
  startClock,
  stepOfJob,
  stopClock,
  takeToolOut,
} from '../../../work-orders/index.ts'
import { unsaidWork } from '../../service/bench/unsaid-work.ts'
import { closeStep } from '../../service/close-step.ts'
import { turnEngine } from '../../service/engine.ts'
import { forgottenClock } from './forgotten-clock.ts'
import { jobCardPage, ToolPutIn } from './job-card-view.ts'
import { cardHref, nextHref } from './links.ts'

const OfStep = z.strictObject({ step_id: Id })
const OfMark = z.strictObject({ mark_id: Id })
const OfLook = z.strictObject({
  look_id: Id,
  fine: z.boolean().optional(),
  skipped_reason: Line.optional().meta({ title: 'Why nobody looks' }),
})
const OfCheck = z.strictObject({ final_check_id: Id, fine: z.boolean() })
const OfTool = z.strictObject({ tool_in_id: Id })
const OfPlannedTool = z.strictObject({ job_tool_id: Id })
const OfClock = z.strictObject({ clock_start_id: Id })
const OfEngine = EngineTurnInput.pick({ how: true })
const Nothing = z.strictObject({})

/** The job card: what is done, what comes next, what blocks what; one tap for the usual thing, which lands at what comes next. */
export function jobCardPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id',
    contract: ToolPutIn,
    page: (ctx, { params, form }) => jobCardPage(pages, ctx, params.id, form),
    submit(ctx, input, { params }) {
      putToolIn(ctx, params.id, input)
      return { to: nextHref(params.id), notice: `${input.tool}: in the vehicle now.` }
    },
  })
  const tap = <Contract extends z.ZodType>(
    what: string,
    contract: Contract,
    act: (ctx: Context, jobId: string, input: z.output<Contract>) => Partial<Done> | undefined,
  ) =>
    pagePost(pages, {
      url: `/bench/jobs/:id/${what}` as '/bench/jobs/:id/x',
      contract,
      page: (ctx, { params }) => jobCardPage(pages, ctx, params.id, null),
      submit: (ctx, input, { params }) => ({ to: nextHref(params.id), ...act(ctx, params.id, input) }),
    })
  /** A tap that says nothing beyond what the card then shows. */
  const plainTap = <Contract extends z.ZodType>(
    what: string,
    contract: Contract,
    act: (ctx: Context, jobId: string, input: z.output<Contract>) => unknown,
  ) =>
    tap(what, contract, (ctx, jobId, input) => {
      act(ctx, jobId, input)
      return undefined
    })

  tap('openings', OfStep, (ctx, jobId, { step_id }) => {
    const { step, shared } = stepOfJob(ctx, jobId, step_id)
    // whoever opens a step again says why, on a page of its own
    if (shared.times_opened > 0 && !shared.is_open) return { to: `${cardHref(jobId)}/steps/${step.id}/open-again` }
    openStep(ctx, jobId, step_id, {})
    return undefined
  })
  tap('closings', OfStep, (ctx, jobId, { step_id }) => {
    closeStep(ctx, jobId, step_id, {})
    const { plan, step, shared } = stepOfJob(ctx, jobId, step_id)
    const unsaid = unsaidWork(plan, shared, jobId)
    return unsaid === '' ? undefined : { notice: `"${step.name}" is closed again. ${capital(unsaid)}.` }
  })
  plainTap('marks', OfMark, (ctx, _, { mark_id }) => recordMark(ctx, mark_id, {}))
  plainTap('looks', OfLook, (ctx, _, { look_id, fine, skipped_reason }) =>
    recordLookResult(ctx, look_id, {
      ...(fine === true && { fine }),
      ...(skipped_reason !== undefined && { skipped_reason }),
    }),
  )
  plainTap('final-checks', OfCheck, (ctx, _, { final_check_id, fine }) =>
    recordFinalCheck(ctx, final_check_id, { fine }),
  )
  plainTap('planned-tools', OfPlannedTool, putPlannedToolIn)
  plainTap('removals', OfTool, (ctx, _, { tool_in_id }) => takeToolOut(ctx, tool_in_id, {}))
  plainTap('engine-turns', OfEngine, (ctx, jobId, { how }) => turnEngine(ctx, jobId, { how }))
  plainTap('completion', Nothing, (ctx, jobId) => completeJob(ctx, jobId, {}))
  tap('clock-starts', Nothing, (ctx, jobId) => {
    const forgotten = forgottenClock(ctx)
    if (forgotten !== null) return { to: forgotten.href, notice: 'First say when you stopped the day before.' }
    const { left } = startClock(ctx, jobId, {})
    const stopped =
      left === null ? '' : ` It was stopped on ${left.number} ${left.letter}, ${left.task}: a person has one clock.`
    return { notice: `Your clock runs on this job.${stopped}` }
  })
  tap('clock-stops', OfClock, (ctx, _, { clock_start_id }) => {
    stopClock(ctx, clock_start_id, {})
    return { notice: 'Your clock is stopped.' }
  })
}

/** A tool goes in as the plan has it. */
function putPlannedToolIn(ctx: Context, jobId: string, { job_tool_id }: z.infer<typeof OfPlannedTool>) {
  const planned = planOfJob(ctx, jobId)
    .jobs.find(job => job.id === jobId)!
    .tools.find(tool => tool.id === job_tool_id)
  if (planned === undefined) {
    throw invalid({ pointer: '/job_tool_id', detail: 'The plan of this job has no such tool.', code: 'unknown' })
  }
  const { tool, count, for_step_id, before_step_id } = planned
  putToolIn(ctx, jobId, {
    ...{ tool, count, job_tool_id },
    ...(for_step_id !== null && { for_step_id }),
    ...(before_step_id !== null && { before_step_id }),
  })
}

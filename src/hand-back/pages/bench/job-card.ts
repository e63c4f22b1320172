import { z } from 'zod'
import { settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import { recordFinalCheck, recordLookResult } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import { Id, Line } from '../../../platform/contract.ts'
import { formOnPage } from '../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../platform/http/form-state.ts'
import { pageForm, pagePost } from '../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../platform/http/pages.ts'
import type { Action } from '../../../platform/pages/actions.ts'
import { link, plate, ref, type Words, words } from '../../../platform/pages/words.ts'
import { chargesOfPlan, completeJob, openStep, putToolIn, takeToolOut } from '../../../work-orders/index.ts'
import type { CardItem } from '../../rules/job-card.ts'
import { type JobAtBench, jobAtBench } from '../../service/bench/job-card.ts'
import { closeStep } from '../../service/close-step.ts'

const OfStep = z.strictObject({ step_id: Id })
const OfLook = z.strictObject({
  look_id: Id,
  fine: z.boolean().optional(),
  skipped_reason: Line.optional().meta({ title: 'Why nobody looks' }),
})
const OfCheck = z.strictObject({ final_check_id: Id, fine: z.boolean() })
const OfTool = z.strictObject({ tool_in_id: Id })
const Nothing = z.strictObject({})

/** One tool of the form: what goes in, and the step before which it must be out. */
const ToolPutIn = z.strictObject({
  tool: Line.meta({
    title: 'Tool put in',
    description: 'Locking pin, plug, gauge, holding plate; several small ones by count',
  }),
  before_step_id: Id.optional().meta({ title: 'Must be out before this is closed' }),
})

/** The job card: what is done, what comes next, what blocks what; one tap for the usual thing. */
export function jobCardPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id',
    contract: ToolPutIn,
    page: (ctx, { params, form }) => jobCardPage(pages, ctx, params.id, form),
    submit(ctx, input, { params }) {
      putToolIn(ctx, params.id, input)
      return { to: back(params), notice: `${input.tool}: in the vehicle now.` }
    },
  })
  const tap = <Contract extends z.ZodType>(
    what: string,
    contract: Contract,
    act: (ctx: Context, jobId: string, input: z.output<Contract>) => void,
  ) =>
    pagePost(pages, {
      url: `/bench/jobs/:id/${what}` as '/bench/jobs/:id/x',
      contract,
      page: (ctx, { params }) => jobCardPage(pages, ctx, params.id, null),
      submit(ctx, input, { params }) {
        act(ctx, params.id, input)
        return { to: back(params) }
      },
    })
  tap('openings', OfStep, (ctx, jobId, { step_id }) => openStep(ctx, jobId, step_id, {}))
  tap('closings', OfStep, (ctx, jobId, { step_id }) => closeStep(ctx, jobId, step_id, {}))
  tap('looks', OfLook, (ctx, _, { look_id, fine, skipped_reason }) =>
    recordLookResult(ctx, look_id, {
      ...(fine === true && { fine }),
      ...(skipped_reason !== undefined && { skipped_reason }),
    }),
  )
  tap('final-checks', OfCheck, (ctx, _, { final_check_id, fine }) => recordFinalCheck(ctx, final_check_id, { fine }))
  tap('removals', OfTool, (ctx, _, { tool_in_id }) => takeToolOut(ctx, tool_in_id, {}))
  tap('completion', Nothing, (ctx, jobId) => completeJob(ctx, jobId, {}))
}

const back = (params: { id: string }) => `/bench/jobs/${params.id}`

/** `toolForm` is the form of a tool when that is what came back; a tap that was refused is told of in the summary alone. */
function jobCardPage(pages: Pages, ctx: Context, jobId: string, toolForm: FormState | null): PageAnswer {
  const bench = jobAtBench(ctx, jobId)
  const { job, plan, vehicle } = bench
  const isOpen = plan.hand_back === null && job.voiding === null
  const settings = settingsOf(ctx)
  const toolsIn = plan.jobs.flatMap(each => each.tools_in).filter(tool => tool.removed_at === null)
  const ownSteps = bench.items.filter(item => item.kind === 'open')
  const choices = plan.steps
    .filter(step => step.job_ids.includes(jobId))
    .map(step => ({ value: step.access_step_id, label: step.name }))
  return {
    template: 'hand-back/job-card',
    sheet: {
      title: job.task,
      sheet_number: words(ref(plan.order.number), ` ${job.letter}`),
      subject: words(
        ...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']),
        `${vehicle.family}${vehicle.variant === undefined ? '' : `, ${vehicle.variant}`} · ${bench.customer_name}`,
      ),
      dates: words(link(`/work-orders/${plan.order.id}`, 'the work order')),
      nav: 'bench',
      at_bench: true,
    },
    view: {
      complaint: plan.order.complaint,
      not_agreed: isOpen && !chargesOfPlan(ctx, plan).has_yes,
      closed: isOpen
        ? null
        : plan.hand_back !== null
          ? 'The vehicle has left: nothing more is written on this card.'
          : `This job was voided: ${job.voiding?.reason ?? ''}.`,
      next: isOpen && bench.next !== undefined ? nextView(bench, bench.next) : null,
      all_done: isOpen && bench.next === undefined && bench.items.every(item => item.done) && bench.items.length > 0,
      finish:
        isOpen && bench.items.length === 0 && job.completion === null
          ? [{ kind: 'post', label: 'It is done', main: true, action: `${back({ id: jobId })}/completion` }]
          : null,
      steps: bench.items.map(item => stepView(bench, item, isOpen)),
      tools:
        toolsIn.length === 0
          ? null
          : `${toolsIn.map(tool => `${tool.tool}, since ${localTimeOf(tool.at, settings.time_zone)}`).join('; ')}.`,
      tool_form: isOpen
        ? formOnPage(pages, ToolPutIn, 'put-in', toolForm).fields({}, { before_step_id: choices })
        : null,
      has_steps: ownSteps.length > 0,
      action: back({ id: jobId }),
      seen: bench.findings.map(finding => ({
        word: finding.severity === 'safety' ? 'Safety' : finding.severity === 'breakdown' ? 'Breakdown' : 'Nuisance',
        hurts: finding.severity === 'safety',
        text: [finding.component, finding.failure_mode, finding.note].filter(Boolean).join(': '),
        why: finding.advice === undefined ? '' : adviceWords(finding.advice, finding.limits),
      })),
      earlier: bench.prior_works.map(work => ({
        word: work.on ?? 'Undated',
        text: work.operation,
        why: [`by ${doerWords[work.by]}`, work.evidence].filter(Boolean).join('; '),
      })),
      more: isOpen
        ? [
            { kind: 'button', label: 'Note something else', href: `${back({ id: jobId })}/finding` },
            { kind: 'button', label: 'Somebody worked on it before', href: `${back({ id: jobId })}/prior-work` },
          ]
        : [],
    },
  }
}

const doerWords = {
  us: 'us',
  other: 'another workshop',
  owner: 'the owner',
  unknown: 'nobody knows whom',
} as const

function adviceWords(advice: 'not_on_the_road' | 'within_limits' | 'no_concern', limits: string | undefined): string {
  const said = {
    not_on_the_road: 'Not on the road',
    within_limits: `Within stated limits: ${limits ?? ''}`,
    no_concern: 'No concern',
  }
  return said[advice]
}

/** What one tap does to an item, the usual thing first. */
function actionsOf({ job }: JobAtBench, item: CardItem, main: boolean): Action[] {
  const to = back(job)
  const post = (label: string, what: string, hidden: Record<string, string>, isMain = main): Action => ({
    kind: 'post',
    label,
    about: item.title,
    ...(isMain && { main: true }),
    action: `${to}/${what}`,
    hidden: Object.entries(hidden).map(([name, value]) => ({ name, value })),
  })
  switch (item.kind) {
    case 'open':
      return [post('Opened', 'openings', { step_id: item.id })]
    case 'close':
      return [post('Closed again', 'closings', { step_id: item.id })]
    case 'look':
      return [
        post('Looked: fine', 'looks', { look_id: item.id, fine: 'true' }),
        { kind: 'button', label: 'Say what I see', about: item.title, href: `${to}/finding?look_id=${item.id}` },
        { kind: 'link', label: 'Leave it out', about: item.title, href: `${to}/looks/${item.id}/skip` },
      ]
    case 'joint':
    case 'second_person':
      return [
        {
          kind: 'button',
          label: item.kind === 'joint' ? 'Tighten' : 'Look and sign',
          about: item.title,
          ...(main && { main: true }),
          href: `/bench/joints/${item.id}`,
        },
      ]
    case 'tool':
      return [post('It is out', 'removals', { tool_in_id: item.id })]
    case 'final_check':
      return [
        post('Fine', 'final-checks', { final_check_id: item.id, fine: 'true' }),
        post('Not fine', 'final-checks', { final_check_id: item.id, fine: 'false' }, false),
        { kind: 'link', label: 'Say what I see', about: item.title, href: `${to}/finding` },
      ]
  }
}

function nextView(bench: JobAtBench, item: CardItem) {
  return { title: item.title, note: item.note, actions: actionsOf(bench, item, true) }
}

function stepView(bench: JobAtBench, item: CardItem, isOpen: boolean) {
  const isNext = item === bench.next
  const state = item.done ? 'signed' : isNext && isOpen ? 'now' : item.waits_for === '' ? 'open' : 'blocked'
  const note: Words = item.done || item.waits_for === '' ? item.note : `cannot be done yet: ${item.waits_for}`
  const title: Words =
    item.kind === 'joint' || item.kind === 'second_person'
      ? words(link(`/bench/joints/${item.id}`, item.title))
      : item.title
  const usual = !item.done && !isNext && item.waits_for === '' ? actionsOf(bench, item, false) : []
  const actions = isOpen ? [...usual, ...(item.kind === 'close' && item.done ? [openAgain(bench, item)] : [])] : []
  return { state, text: title, note, actions }
}

/** A step that was closed and must be opened once more counts again. */
function openAgain({ job }: JobAtBench, item: CardItem): Action {
  const hidden = [{ name: 'step_id', value: item.id }]
  return { kind: 'post', label: 'Open it again', about: item.title, action: `${back(job)}/openings`, hidden }
}

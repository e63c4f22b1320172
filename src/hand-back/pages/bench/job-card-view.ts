import { z } from 'zod'
import { attachmentsOnJobs } from '../../../attachments/index.ts'
import { roughDay } from '../../../core/days.ts'
import type { Advice } from '../../../core/vocabulary.ts'
import { capital, listed } from '../../../core/words.ts'
import type { Context } from '../../../platform/context.ts'
import { Id } from '../../../platform/contract.ts'
import { formOnPage } from '../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../platform/http/form-state.ts'
import type { PageAnswer, Pages } from '../../../platform/http/pages.ts'
import type { Action } from '../../../platform/pages/actions.ts'
import { addAttachmentAddress, attachmentSet } from '../../../platform/pages/attachments.ts'
import { link, plate, ref, type Words, words } from '../../../platform/pages/words.ts'
import { ToolInInput } from '../../../work-orders/contract.ts'
import { chargesOfPlan } from '../../../work-orders/index.ts'
import { allDone, type CardItem, nextItem, nextNeeded } from '../../rules/job-card.ts'
import { type JobAtBench, jobAtBench } from '../../service/bench/job-card.ts'
import { actionsOf, laterActions } from './job-card-actions.ts'
import { cardHref } from './links.ts'
import { toolsTable } from './tools-table.ts'
import { DOER_WORDS } from './words.ts'

/** One tool of the form: what goes in, how many, what for, and the step before which it must be out. */
export const ToolPutIn = z.strictObject({
  tool: ToolInInput.shape.tool.meta({
    title: 'Tool put in',
    description: 'Locking pin, plug, gauge, holding plate; small things by count',
  }),
  count: ToolInInput.shape.count,
  for_step_id: ToolInInput.shape.for_step_id,
  before_step_id: Id.optional().meta({ title: 'Must be out before this is closed' }),
})

/** `toolForm` is the form of a tool when that is what came back; a tap that was refused is told of in the summary alone. */
export function jobCardPage(pages: Pages, ctx: Context, jobId: string, toolForm: FormState | null): PageAnswer {
  const bench = jobAtBench(ctx, jobId)
  const { job, plan, vehicle, items } = bench
  const isOpen = plan.hand_back === null && job.voiding === null
  const href = cardHref(jobId)
  const next = isOpen ? nextItem(items) : undefined
  const needed = isOpen ? nextNeeded(items) : undefined
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
      temporary: bench.temporary.length === 0 ? null : `${listed(bench.temporary)}.`,
      not_agreed: isOpen && !chargesOfPlan(ctx, plan).has_yes,
      closed: isOpen ? null : closedWords(bench),
      next: next === undefined ? null : nextView(bench, next),
      // something that is only offered comes next, so what the rest waits for is said as well
      go_on: needed === undefined || needed === next ? null : nextView(bench, needed),
      waits: isOpen && next === undefined ? waitsWords(items) : null,
      all_done: isOpen && allDone(items) && items.length > 0,
      finish:
        isOpen && items.length === 0 && job.completion === null
          ? [{ kind: 'post', label: 'It is done', main: true, action: `${href}/completion` }]
          : null,
      clock: clockView(ctx, bench, isOpen),
      steps: items.map(item => stepView(bench, item, { isOpen, isNext: item === next || item === needed })),
      tools: toolsTable(ctx, plan),
      tool_form: isOpen
        ? formOnPage(pages, ToolPutIn, 'put-in', toolForm).fields({}, { for_step_id: choices, before_step_id: choices })
        : null,
      tool_form_back: toolForm?.parts.error_summary != null,
      has_steps: choices.length > 0,
      action: href,
      add_attachment: addAttachmentAddress('job_id', jobId, href),
      ...knownView(bench),
      attachments: attachmentsOnJobs(ctx, [job]).map(({ of, attachments }) =>
        attachmentSet({ of, heading: of }, attachments),
      ),
      more: isOpen
        ? [
            { kind: 'button', label: 'Note something else', href: `${href}/finding` },
            { kind: 'button', label: 'Somebody worked on it before', href: `${href}/prior-work` },
          ]
        : [],
    },
  }
}

function closedWords({ plan, job }: JobAtBench): string {
  return plan.hand_back !== null
    ? 'The vehicle has left: nothing more is written on this card.'
    : `This job was voided: ${job.voiding?.reason ?? ''}.`
}

/** Nothing can be done now, and something is not done: what it waits for. */
function waitsWords(items: readonly CardItem[]): string | null {
  const first = items.find(item => !item.done && !item.optional)
  return first === undefined ? null : `${first.title} waits: ${first.waits_for}.`
}

function nextView(bench: JobAtBench, item: CardItem) {
  // what is only offered is not the one thing to touch
  return {
    title: item.title,
    note: item.note,
    actions: actionsOf(bench, item, !item.optional || item.kind === 'start'),
  }
}

function stepView(bench: JobAtBench, item: CardItem, { isOpen, isNext }: { isOpen: boolean; isNext: boolean }) {
  const canBe = !item.done && !item.missed && item.waits_for === ''
  const state = item.done ? 'signed' : isNext ? 'now' : canBe || item.missed ? 'open' : 'blocked'
  const note: Words = item.waits_for === '' ? item.note : `cannot be done yet: ${item.waits_for}`
  const title: Words =
    item.kind === 'joint' || item.kind === 'second_person'
      ? words(link(`/bench/joints/${item.id}`, item.title))
      : item.title
  const usual = canBe && !isNext ? actionsOf(bench, item, false) : []
  const again = item.kind === 'close' && item.done ? [openAgain(bench, item)] : []
  return { state, text: title, note, actions: isOpen ? [...usual, ...again, ...laterActions(bench, item)] : [] }
}

/** A step that was closed and must be opened once more counts again: a page of its own asks why, and who bears it. */
function openAgain({ job }: JobAtBench, item: CardItem): Action {
  const href = `${cardHref(job.id)}/steps/${item.id}/open-again`
  return { kind: 'button', label: 'Open it again', about: item.title, href }
}

/** Whose clock it is: of whoever looks at the card. The desk has none. */
function clockView(ctx: Context, { clock, job }: JobAtBench, isOpen: boolean) {
  if (!isOpen || ctx.actor?.role === 'desk') return null
  const href = cardHref(job.id)
  if (clock?.job_id !== job.id) {
    return {
      says: clock === null ? '' : `Your clock runs on another job since ${clock.since}.`,
      actions: [{ kind: 'post', label: 'Start the clock', action: `${href}/clock-starts` }],
    }
  }
  const hidden = [{ name: 'clock_start_id', value: clock.id }]
  return {
    says: `Your clock runs on this job since ${clock.since}.`,
    actions: [{ kind: 'post', label: 'Stop the clock', action: `${href}/clock-stops`, hidden }],
  }
}

const SEVERITY_WORDS = { safety: 'Safety', breakdown: 'Breakdown', nuisance: 'Nuisance' } as const

function knownView({ findings, prior_works, job }: JobAtBench) {
  return {
    seen: findings.map(finding => ({
      word: SEVERITY_WORDS[finding.severity],
      hurts: finding.severity === 'safety',
      text: [finding.component, finding.failure_mode, finding.note].filter(Boolean).join(': '),
      why: words(
        finding.advice === undefined ? '' : `${adviceWords(finding.advice, finding.limits).replace(/\.$/, '')}. `,
        link(addAttachmentAddress('finding_id', finding.id, cardHref(job.id)), 'Add a photo or sound'),
      ),
    })),
    earlier: prior_works.map(work => ({
      word: capital(roughDay(work.on, work.exactness)),
      text: work.operation,
      why: [`by ${DOER_WORDS[work.by]}`, work.evidence].filter(Boolean).join('; '),
    })),
  }
}

function adviceWords(advice: Advice, limits: string | undefined): string {
  const said = {
    not_on_the_road: 'Not on the road',
    within_limits: `Within stated limits: ${limits ?? ''}`,
    no_concern: 'No concern',
  }
  return said[advice]
}

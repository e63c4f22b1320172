import { z } from 'zod'
import { attachmentsOnJobs, type ShownAttachment } from '../../../attachments/index.ts'
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
import { link, type Piece, plate, ref, type Words, words } from '../../../platform/pages/words.ts'
import { ToolInInput } from '../../../work-orders/contract.ts'
import { chargesOfPlan, outBefore } from '../../../work-orders/index.ts'
import { inOneClause } from '../../rules/blockers.ts'
import type { CardItem } from '../../rules/card-item.ts'
import { allDone, firstToDo, nextItem, nextNeeded } from '../../rules/job-card.ts'
import { type JobAtBench, jobAtBench } from '../../service/bench/job-card.ts'
import { checkView } from './check-view.ts'
import { forgottenClock } from './forgotten-clock.ts'
import { actionsOf, laterActions } from './job-card-actions.ts'
import { cardHref, jointHref } from './links.ts'
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
  before_step_id: Id.optional().meta({ title: 'Must be out' }),
})

/** `toolForm` is the form of a tool when that is what came back; a tap that was refused is told of in the summary alone. */
export function jobCardPage(pages: Pages, ctx: Context, jobId: string, toolForm: FormState | null): PageAnswer {
  const bench = jobAtBench(ctx, jobId)
  const { job, plan, vehicle, items } = bench
  const isOpen = plan.hand_back === null && job.voiding === null
  const href = cardHref(jobId)
  const next = isOpen ? nextItem(items) : undefined
  const needed = isOpen ? nextNeeded(items) : undefined
  const choices = stepChoices(bench)
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
      doubts: bench.doubts.map(({ joint, told, href: settle }) =>
        words(`${joint}: ${told} `, link(settle, 'See it and settle it')),
      ),
      not_agreed: isOpen && !chargesOfPlan(ctx, plan).has_yes,
      closed: isOpen ? null : closedWords(bench),
      next: next === undefined ? null : nextView(bench, next, isMain(next)),
      // something that is only offered comes next, so what the rest waits for is said as well
      go_on:
        needed === undefined || needed === next ? null : nextView(bench, needed, next === undefined || !isMain(next)),
      waits: isOpen && next === undefined ? waitsWords(bench) : null,
      all_done: isOpen && allDone(items),
      clock: clockView(ctx, bench, isOpen),
      // one thing to touch: where something is only offered first, what the rest waits for
      steps: items.map(item =>
        stepView(bench, item, { isOpen, isNext: item === (needed ?? next), isShown: item === next || item === needed }),
      ),
      tools: toolsTable(ctx, plan),
      tool_form: isOpen ? formOnPage(pages, ToolPutIn, 'put-in', toolForm).fields({}, choices) : null,
      tool_form_back: toolForm?.parts.error_summary != null,
      has_steps: choices.for_step_id.length > 0,
      action: href,
      ...checkView(ctx, plan, jobId, isOpen),
      add_attachment: addAttachmentAddress('job_id', jobId, href),
      ...knownView(bench),
      ...recordingsView(ctx, bench),
      more: isOpen
        ? [
            { kind: 'button', label: 'Note something else', href: `${href}/finding` },
            { kind: 'button', label: 'Somebody worked on it before', href: `${href}/prior-work` },
          ]
        : [],
    },
  }
}

/** The steps of the job that a tool is put in for. It must be out before any is closed, unless somebody names one. */
function stepChoices({ plan, job }: JobAtBench) {
  const own = plan.steps.filter(step => step.job_ids.includes(job.id))
  const before = (id: string | null) => ({
    value: id ?? '',
    label: `before ${outBefore({ before_step_id: id }, own)}`,
  })
  return {
    for_step_id: own.map(step => ({ value: step.access_step_id, label: step.name })),
    before_step_id: [before(null), ...own.map(step => before(step.access_step_id))],
  }
}

function closedWords({ plan, job }: JobAtBench): string {
  return plan.hand_back !== null
    ? 'The vehicle has left: nothing more is written on this card.'
    : `This job was voided: ${job.voiding?.reason ?? ''}.`
}

/** Nothing can be done now, and something is not done: what it waits for. */
function waitsWords({ job, items }: JobAtBench): Words | null {
  const first = firstToDo(items)
  return first === undefined ? null : words(`${first.title} waits: `, ...whyWaits(first, cardHref(job.id)), '.')
}

/** Why a thing must wait; what stands on another page with the way there. */
function whyWaits({ waits_for, blockers }: CardItem, here: string): (string | Piece)[] {
  if (blockers.length === 0) return [waits_for]
  return blockers.flatMap((blocker, at) => {
    const text = inOneClause([blocker])
    return [...(at === 0 ? [] : ['; ']), blocker.href === here ? text : link(blocker.href, text)]
  })
}

/** What is only offered is not the one thing to touch; an engine that may be started is. */
function isMain(item: CardItem): boolean {
  return !item.optional || item.kind === 'start'
}

function nextView(bench: JobAtBench, item: CardItem, main: boolean) {
  return { title: item.title, note: item.note, actions: actionsOf(bench, item, main) }
}

/** `isShown`: what can be done with it stands under "Next" already. */
function stepView(
  bench: JobAtBench,
  item: CardItem,
  { isOpen, isNext, isShown }: { isOpen: boolean; isNext: boolean; isShown: boolean },
) {
  const canBe = !item.done && !item.missed && item.waits_for === ''
  const state = item.done ? 'signed' : isNext ? 'now' : canBe || item.missed ? 'open' : 'blocked'
  const note: Words =
    item.waits_for === '' ? item.note : words('cannot be done yet: ', ...whyWaits(item, cardHref(bench.job.id)))
  const title: Words =
    item.kind === 'joint' || item.kind === 'second_person' ? words(link(jointHref(item.id), item.title)) : item.title
  const usual = canBe && !isShown ? actionsOf(bench, item, false) : []
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
      says:
        clock === null
          ? ''
          : `This stops your clock on ${clock.number}, ${clock.task}, which has run since ${clock.since}.`,
      actions: [{ kind: 'post', label: 'Start the clock', action: `${href}/clock-starts` }],
    }
  }
  const forgotten = forgottenClock(ctx)
  if (forgotten !== null)
    return { says: forgotten.says, actions: [{ kind: 'button', label: 'When did you stop?', href: forgotten.href }] }
  const hidden = [{ name: 'clock_start_id', value: clock.id }]
  return {
    says: `Your clock runs on this job since ${clock.since}.`,
    actions: [{ kind: 'post', label: 'Stop the clock', action: `${href}/clock-stops`, hidden }],
  }
}

/** Its sound before and after the work, side by side; then whatever else is attached to the job and its things. */
function recordingsView(ctx: Context, { job }: JobAtBench) {
  const things = attachmentsOnJobs(ctx, [job])
  const isItsSound = ({ kind, moment }: ShownAttachment) => kind !== 'photo' && moment !== null
  const sound = things.filter(thing => thing.key === 'job_id').flatMap(thing => thing.attachments.filter(isItsSound))
  const others = things.map(thing =>
    thing.key === 'job_id' ? { ...thing, attachments: thing.attachments.filter(each => !isItsSound(each)) } : thing,
  )
  return {
    sound: sound.length === 0 ? null : [attachmentSet({ of: 'Its sound' }, sound)],
    sound_waits: job.sound_before_after && sound.every(each => each.moment === 'before'),
    attachments: others
      .filter(thing => thing.attachments.length > 0)
      .map(({ of, attachments }) => attachmentSet({ of, heading: of }, attachments)),
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

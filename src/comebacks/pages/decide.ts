import { localDateOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { CAUSE_CATEGORIES } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { penOf } from '../../platform/pages/pen.ts'
import { plate, ref, words } from '../../platform/pages/words.ts'
import { invalid, notFound, Problem, problem } from '../../platform/problems.ts'
import { fromInstant } from '../../platform/wire.ts'
import { type ComebackDecision, type ComebackDecisionInput, DecisionForm } from '../contract.ts'
import { decideComeback, decisionsAbout, requirePair } from '../service/decisions.ts'
import { comebacksOfStay } from '../service/stay-comebacks.ts'
import { reasonsOf } from '../service/suspicions.ts'
import { pairTold } from '../service/told.ts'
import { costTable } from './cost-view.ts'
import { oneCategory } from './one-category.ts'
import { BEARS, category, jobWords, REASONS, SAYS, stayLink } from './words.ts'

interface Pair {
  earlier_job_id: string
  later_work_order_id: string
}

/** The owner decides on one earlier job and one later stay; once decided, a new decision takes its place. */
export function decidePage(pages: Pages): void {
  pageForm(pages, {
    url: '/comebacks/:earlier_job_id/:later_work_order_id',
    roles: [],
    contract: DecisionForm,
    initial: (ctx, { params }) => ({ values: asTyped(standingOf(ctx, params)) }),
    page(ctx, { params, form }) {
      mustFit(ctx, params)
      const { job, stay } = pairTold(ctx, params.earlier_job_id, params.later_work_order_id)
      const [standing, ...earlier] = decisionsAbout(ctx, params.earlier_job_id, params.later_work_order_id)
      const reasons = reasonsOf(ctx, params)
      const { time_zone, ...habits } = pages.habits()
      const { cost } = comebacksOfStay(ctx, params.later_work_order_id)
      return {
        template: 'comebacks/decide',
        sheet: {
          title: 'Is it a comeback?',
          sheet_number: words('Order ', ref(stay.number)),
          subject: words(plate(stay.title), ` ${stay.family}`),
          nav: 'comebacks',
        },
        view: {
          facts: [
            { label: 'Earlier job', value: jobWords(job), note: `handed back on ${longDay(job.handed_back_on)}` },
            { label: 'This stay', value: words(stayLink(stay)) },
          ],
          complaint: stay.complaint,
          reasons: reasons.map(({ reason, sentence }) => ({ word: REASONS[reason], text: sentence })),
          address: `/comebacks/${encodeURIComponent(params.earlier_job_id)}/${encodeURIComponent(params.later_work_order_id)}`,
          fields: {
            ...form.fields({
              choices: { category: CAUSE_CATEGORIES.map(word => ({ value: word, label: category(word) })) },
            }),
            supersedes: { type: 'hidden', name: 'supersedes', value: standing?.id ?? '' },
          },
          standing: standing === undefined ? null : inWords(standing, time_zone),
          earlier: earlier.map(each => inWords(each, time_zone)),
          cost: cost === null ? null : costTable(cost, penOf(habits).money),
        },
      }
    },
    submit(ctx, input, { params }) {
      mustFit(ctx, params)
      const standing = standingOf(ctx, params)
      const decision = decisionOf(input, params)
      if (standing !== undefined && isSame(standing, decision)) {
        return { to: '/comebacks', notice: 'That is what was decided before: nothing has changed.' }
      }
      refuseUnseen(standing, input)
      decideComeback(ctx, decision)
      return { to: '/comebacks', notice: `Decided: ${SAYS[input.decision].toLowerCase()}.` }
    },
  })
}

/** 422 for what only the page asks: who pays for a comeback, and one cause. */
function decisionOf(input: DecisionForm, pair: Pair): ComebackDecisionInput {
  const { what_failed, why_failed, why_possible, other_category, category: ready, ...rest } = input
  if (input.decision === 'confirmed' && input.borne_by === undefined) {
    throw invalid({ pointer: '/borne_by', detail: 'Say who pays for the comeback.', code: 'missing' })
  }
  const word = oneCategory({ category: ready, other_category })
  return {
    ...rest,
    ...pair,
    ...(word !== undefined && { category: word }),
    root_cause: [what_failed, why_failed, why_possible].flatMap(line => line ?? []),
  }
}

/** Sent twice, or sent again as it was shown: it is the same decision. */
function isSame(standing: ComebackDecision, decision: ComebackDecisionInput): boolean {
  const said = ({ decision: word, why, category: cause, borne_by, root_cause }: ComebackDecisionInput) =>
    JSON.stringify([word, why, cause ?? null, borne_by ?? null, root_cause])
  return said(standing) === said(decision)
}

/** 409 when somebody has decided since the page was opened: that decision stands there now, to be seen first. */
function refuseUnseen(standing: ComebackDecision | undefined, { supersedes }: DecisionForm): void {
  if (standing?.id === supersedes) return
  throw problem('comeback-decided', {
    detail:
      'This has been decided since you opened the page; what stands is shown below. Send yours again to put it in its place.',
  })
}

/** An address that names no such pair is no page. */
function mustFit(ctx: Context, pair: Pair): void {
  try {
    requirePair(ctx, pair)
  } catch (error) {
    if (error instanceof Problem && error.type === 'invalid-input')
      throw notFound('such pair of job and stay', pair.earlier_job_id)
    throw error
  }
}

function standingOf(ctx: Context, pair: Pair): ComebackDecision | undefined {
  return decisionsAbout(ctx, pair.earlier_job_id, pair.later_work_order_id)[0]
}

/** The form begins with what was decided before. */
function asTyped(standing: ComebackDecision | undefined): object {
  if (standing === undefined) return {}
  const [what_failed, why_failed, why_possible] = standing.root_cause
  const word = standing.category
  const isReady = word !== undefined && (CAUSE_CATEGORIES as readonly string[]).includes(word)
  return {
    decision: standing.decision,
    why: standing.why,
    borne_by: standing.borne_by,
    ...(word !== undefined && (isReady ? { category: word } : { other_category: word })),
    what_failed,
    why_failed,
    why_possible,
  }
}

function inWords(decision: ComebackDecision, timeZone: string): string {
  const { why, category: word, root_cause, borne_by, reason, created_at } = decision
  const chain = root_cause.length === 0 ? '' : ` Root cause: ${root_cause.join('; ').replace(/\.$/, '')}.`
  const bears = borne_by === undefined ? '' : ` Pays: ${BEARS[borne_by]}.`
  const changed = reason === undefined ? '' : ` Changed because: ${reason}`
  return `${SAYS[decision.decision]}, ${longDay(localDateOf(fromInstant(created_at), timeZone))}: ${why}${word === undefined ? '' : ` (${category(word)})`}${chain}${bears}${changed}`
}

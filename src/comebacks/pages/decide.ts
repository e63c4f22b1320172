import { CAUSE_CATEGORIES } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { plate, words } from '../../platform/pages/words.ts'
import { notFound, Problem } from '../../platform/problems.ts'
import { type ComebackDecision, DecisionForm } from '../contract.ts'
import { decideComeback, decisionsAbout, requirePair } from '../service/decisions.ts'
import { reasonsOf } from '../service/suspicions.ts'
import { pairTold } from '../service/told.ts'
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
      return {
        template: 'comebacks/decide',
        sheet: {
          title: 'Is it a comeback?',
          sheet_number: stay.number,
          subject: words(plate(stay.title), ` ${stay.family}`),
          nav: 'comebacks',
        },
        view: {
          facts: [
            { label: 'Earlier job', value: jobWords(job), note: `handed back on ${job.handed_back_on}` },
            { label: 'This stay', value: words(stayLink(stay)) },
          ],
          complaint: stay.complaint,
          reasons: reasons.map(({ reason, sentence }) => ({ word: REASONS[reason], text: sentence })),
          address: `/comebacks/${encodeURIComponent(params.earlier_job_id)}/${encodeURIComponent(params.later_work_order_id)}`,
          fields: form.fields({
            choices: { category: CAUSE_CATEGORIES.map(word => ({ value: word, label: category(word) })) },
          }),
          standing: standing === undefined ? null : inWords(standing),
          earlier: earlier.map(inWords),
        },
      }
    },
    submit(ctx, input, { params }) {
      mustFit(ctx, params)
      const standing = standingOf(ctx, params)
      const { what_failed, why_failed, why_possible, other_category, category: ready, ...rest } = input
      const word = other_category ?? ready
      decideComeback(ctx, {
        ...rest,
        ...params,
        ...(word !== undefined && { category: word }),
        root_cause: [what_failed, why_failed, why_possible].flatMap(line => line ?? []),
        ...(standing !== undefined && { supersedes: standing.id }),
      })
      return { to: '/comebacks', notice: `Decided: ${SAYS[input.decision].toLowerCase()}.` }
    },
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

function inWords(decision: ComebackDecision): string {
  const { why, category: word, borne_by, created_at } = decision
  const bears = borne_by === undefined ? '' : ` Pays: ${BEARS[borne_by]}.`
  return `${SAYS[decision.decision]}, ${created_at.slice(0, 10)}: ${why}${word === undefined ? '' : ` (${category(word)})`}${bears}`
}

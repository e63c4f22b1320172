import { z } from 'zod'
import { daysBetween, localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { counted, countWord } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { penOf } from '../../platform/pages/pen.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { act, plate, type Words, words } from '../../platform/pages/words.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { Suspicion } from '../contract.ts'
import { costInWords } from '../rules/cost-in-words.ts'
import { comebacksOfStay } from '../service/stay-comebacks.ts'
import { decisionHref } from '../service/suspicions.ts'
import { decisionsTold, suspicionsTold, type Told, type ToldDecision } from '../service/told.ts'
import { BEARS, category, jobWords, SAYS, stayLink } from './words.ts'

const DECISIONS_SHOWN = 10

/** `after` is the decision that the page before ended with. */
const Query = z.strictObject({ after: z.string().max(100).optional() })

export function comebacksPage(pages: Pages): void {
  pageRead(pages, {
    url: '/comebacks',
    query: Query,
    handle(ctx, { query: { after = null } }) {
      const { time_zone, ...habits } = pages.habits()
      const suspected = suspicionsTold(ctx)
      const told = decisionsTold(ctx, DECISIONS_SHOWN + 1, after)
      const decisions = told.slice(0, DECISIONS_SHOWN)
      const last = told.length > DECISIONS_SHOWN ? decisions.at(-1)?.about.id : undefined
      const mayDecide = ctx.actor?.role === 'owner'
      return {
        template: 'comebacks/comebacks',
        sheet: {
          title: 'Comebacks',
          sheet_number: toDecideWords(suspected),
          subject: 'A later stay that an earlier job of ours may have caused. Only a person confirms or rules out.',
          nav: 'comebacks',
        },
        view: {
          suspected: suspected.map(one => suspicionView(one, mayDecide)),
          decisions: table({
            columns: [
              column('Came back'),
              column('After', 'figure'),
              column('Earlier job'),
              column('Decided'),
              column('Why'),
              column('Pays'),
            ],
            rows: decisions.map(one => decisionRow(one, { time_zone, mayDecide, cost: costNotes(ctx, one, habits) })),
            empty: 'Nothing has been decided yet.',
          }),
          more: last === undefined && after === null ? null : moreOf(decisions.length, last, after),
        },
      }
    },
  })
}

function moreOf(shown: number, last: string | undefined, after: string | null) {
  return {
    says: `${shown} decisions, newest first`,
    ...(after !== null && { first: '/comebacks' }),
    ...(last !== undefined && { next: `/comebacks?after=${encodeURIComponent(last)}` }),
  }
}

/** One suspicion as a sentence, with its reasons beneath and the way to decide it. */
function suspicionView({ about, job, stay }: Told<Suspicion>, mayDecide: boolean) {
  const like = likeWords(about)
  const href = decisionHref(about.earlier_job_id, about.later_work_order_id)
  const after = counted(about.days_after, 'day')
  return {
    word: stay.title,
    text: words(`${stay.family} came in (`, stayLink(stay), `) ${after} after `, ...jobWords(job), '.'),
    why: words([...about.sentences.slice(1), like].join(' '), ...(mayDecide ? [' ', act(href, 'Decide')] : [])),
  }
}

/** Past decisions on just the same set of reasons: with one more or one less it is another case. */
function likeWords({ reasons, like_this: { confirmed, decided } }: Suspicion): string {
  const these = reasons.length === 1 ? 'this reason alone' : `just these ${countWord(reasons.length)} reasons`
  if (decided === 0) return `None with ${these} has been decided yet.`
  return `Of ${decided} with ${these}, ${confirmed} ${confirmed === 1 ? 'was a comeback' : 'were comebacks'}.`
}

/** Stays, since each is one thing to think about; with the jobs beside them where one is suspected of several. */
function toDecideWords(suspected: readonly Told<Suspicion>[]): string {
  const stays = new Set(suspected.map(({ stay }) => stay.id)).size
  const jobs = suspected.length === stays ? '' : `, after ${counted(suspected.length, 'earlier job')}`
  return `${counted(stays, 'stay')} to decide${jobs}`
}

/** What the stay of a comeback cost us, for whoever is shown money. */
function costNotes(ctx: Context, { about, stay }: ToldDecision, habits: Omit<Habits, 'time_zone'>): Words[] {
  const isTold = about.decision === 'confirmed' && about.superseded_by === undefined
  if (!isTold || ctx.actor?.role === 'technician') return []
  const { cost } = comebacksOfStay(ctx, stay.id)
  return cost === null ? [] : [costInWords(cost, penOf(habits).money)]
}

interface ForReader {
  time_zone: string
  mayDecide: boolean
  cost: Words[]
}

function decisionRow({ about, job, stay, by }: ToldDecision, { time_zone, mayDecide, cost }: ForReader): Row {
  const takenInOn = localDateOf(stay.created_at, time_zone)
  const decidedOn = localDateOf(fromInstant(about.created_at), time_zone)
  const href = decisionHref(about.earlier_job_id, about.later_work_order_id)
  const stands = about.superseded_by === undefined
  const change = stands && mayDecide ? [words(act(href, 'change'))] : []
  const onward = stands && mayDecide && about.decision === 'confirmed' ? onwardFrom(about) : []
  return {
    signed: stands,
    cells: [
      { text: words(plate(stay.title), ' ', stay.family), notes: [words(stayLink(stay))] },
      `${daysBetween(job.handed_back_on, takenInOn)} d`,
      jobWords(job),
      {
        text: stands ? SAYS[about.decision] : `${SAYS[about.decision]}, no longer`,
        notes: [`${shortDay(decidedOn)}${by === null ? '' : `, ${by}`}`, ...change],
      },
      {
        text: about.why,
        notes: [...(about.category === undefined ? [] : [category(about.category)]), ...about.root_cause, ...onward],
      },
      { text: about.borne_by === undefined ? '–' : BEARS[about.borne_by], notes: cost },
    ],
  }
}

/** What follows from a comeback that is confirmed: a change, and a claim where the supplier bears some of it. */
function onwardFrom({ id, borne_by }: ToldDecision['about']) {
  const claim = act(`/comebacks/decided/${encodeURIComponent(id)}/claim`, 'claim it')
  return [
    words(
      act(`/comebacks/actions/new?decision=${encodeURIComponent(id)}`, 'what we changed'),
      ...(borne_by === 'supplier' || borne_by === 'shared' ? [', ', claim] : []),
    ),
  ]
}

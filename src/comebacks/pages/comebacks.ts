import { z } from 'zod'
import { daysBetween, localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { link, plate, words } from '../../platform/pages/words.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { Suspicion } from '../contract.ts'
import { decisionHref } from '../service/suspicions.ts'
import { decisionsTold, suspicionsTold, type Told, type ToldDecision } from '../service/told.ts'
import { BEARS, category, jobWords, SAYS, stayLink } from './words.ts'

const DECISIONS_SHOWN = 40

/** `after` is the decision that the page before ended with. */
const Query = z.strictObject({ after: z.string().max(100).optional() })

export function comebacksPage(pages: Pages): void {
  pageRead(pages, {
    url: '/comebacks',
    query: Query,
    handle(ctx, { query: { after = null } }) {
      const { time_zone } = pages.habits()
      const suspected = suspicionsTold(ctx)
      const told = decisionsTold(ctx, DECISIONS_SHOWN + 1, after)
      const decisions = told.slice(0, DECISIONS_SHOWN)
      const last = told.length > DECISIONS_SHOWN ? decisions.at(-1)?.about.id : undefined
      const mayDecide = ctx.actor?.role === 'owner'
      return {
        template: 'comebacks/comebacks',
        sheet: {
          title: 'Comebacks',
          sheet_number: `${suspected.length} to decide`,
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
            rows: decisions.map(one => decisionRow(one, time_zone, mayDecide)),
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
  const { confirmed, decided } = about.like_this
  const like =
    decided === 0 ? 'None like this has been decided yet.' : `${confirmed} of ${decided} like this were comebacks.`
  const href = decisionHref(about.earlier_job_id, about.later_work_order_id)
  const after = counted(about.days_after, 'day')
  return {
    word: stay.title,
    text: words(`${stay.family} came in (`, stayLink(stay), `) ${after} after `, ...jobWords(job), '.'),
    why: words([...about.sentences.slice(1), like].join(' '), ...(mayDecide ? [' ', link(href, 'Decide')] : [])),
  }
}

function decisionRow({ about, job, stay, by }: ToldDecision, timeZone: string, mayDecide: boolean): Row {
  const takenInOn = localDateOf(stay.created_at, timeZone)
  const decidedOn = localDateOf(fromInstant(about.created_at), timeZone)
  const href = decisionHref(about.earlier_job_id, about.later_work_order_id)
  const stands = about.superseded_by === undefined
  const change = stands && mayDecide ? [words(link(href, 'change'))] : []
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
      about.borne_by === undefined ? '–' : BEARS[about.borne_by],
    ],
  }
}

/** What follows from a comeback that is confirmed: a change, and a claim where the supplier bears some of it. */
function onwardFrom({ id, borne_by }: ToldDecision['about']) {
  const claim = link(`/comebacks/decided/${encodeURIComponent(id)}/claim`, 'claim it')
  return [
    words(
      link(`/comebacks/actions/new?decision=${encodeURIComponent(id)}`, 'what we changed'),
      ...(borne_by === 'supplier' || borne_by === 'shared' ? [', ', claim] : []),
    ),
  ]
}

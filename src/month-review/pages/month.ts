import { z } from 'zod'
import { longDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { pagePost, pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { type MonthFigures, type MonthReview, MonthReviewQuery } from '../contract.ts'
import type { KnownDifferently } from '../rules/known-differently.ts'
import { monthFault, monthRuns, monthsTo, nextMonth } from '../rules/months.ts'
import { issueMonth } from '../service/issue-month.ts'
import { differsFromIssued, isIssued, monthReview, recordChain, today } from '../service/month-review.ts'
import { actionsTable, causesTable, lossWords, monthAgoWords } from './causes-view.ts'
import { chargesTable } from './charges-view.ts'
import { headline } from './headline.ts'
import { ratesCaption, ratesChart, ratesTable } from './rates-view.ts'
import { returnsTable } from './returns-view.ts'
import { claimsTable, doubtsTable, doubtWords, dueTable, leftWords, pairsTable } from './standing-view.ts'
import { type MoneyPen, moneyPenFor, monthName } from './words.ts'

/** The review of one month, which prints on two sheets. */
export function monthPage(pages: Pages): void {
  pageRead(pages, {
    url: '/months/:month',
    query: MonthReviewQuery,
    handle(ctx, { params, query }) {
      const review = monthReview(ctx, params.month, query)
      return pageOf(ctx, review, moneyPenFor(ctx.actor, pages.habits()))
    },
  })
  pagePost(pages, {
    url: '/months/:month/issue',
    roles: [],
    contract: z.strictObject({}),
    submit(ctx, _input, { params }) {
      issueMonth(ctx, params.month)
      return { to: `/months/${params.month}`, notice: `${monthName(params.month)} is issued: its figures stand.` }
    },
  })
}

function pageOf(ctx: Context, review: MonthReview, money: MoneyPen | null): PageAnswer {
  const { month, as_known_on, figures } = review
  const isOwner = ctx.actor?.role === 'owner'
  const { seq, hash } = recordChain(ctx)
  const wasIssued = isIssued(ctx, month)
  const mayIssue = isOwner && !wasIssued && !monthRuns(month, today(ctx))
  return {
    template: 'month-review/month',
    sheet: {
      title: `Month review, ${monthName(month)}`,
      sheet_title: 'Month review',
      sheet_number: monthName(month),
      subject: subject(figures),
      dates: datesOf(review, wasIssued),
      nav: 'months',
    },
    view: {
      headline: headline(month, figures, money, isOwner),
      rates: { drawings: ratesChart(figures.rates), caption: ratesCaption(figures.rates) },
      rates_table: ratesTable(figures.rates),
      returns: returnsTable(figures.comebacks, { money, mayDecide: isOwner }),
      returns_aside: returnsAside(money),
      causes: causesTable(figures.causes),
      losses: lossWords(figures.losses, money),
      changed: actionsTable(figures.actions),
      claims: claimsTable(figures.warranty, money),
      month_ago: monthAgoWords(figures.warranty, money),
      no_claims: `${counted(figures.warranty.jobs, 'job')} under warranty. No job has come back under warranty yet, so nothing can be foretold.`,
      doubt: doubtWords(figures.in_doubt),
      doubts: doubtsTable(figures.in_doubt),
      due: dueTable(figures.calibrations_due),
      left: leftWords(figures.left_for_later, money),
      pairs: pairsTable(figures.pairs, as_known_on),
      pairs_standing: pairsStanding(figures.pairs),
      charges: money === null ? null : chargesTable(figures, money),
      to_issue: mayIssue ? toIssue(as_known_on, today(ctx)) : null,
      differs: review.issued_at === undefined ? null : differsTable(differsFromIssued(ctx, review), money),
      actions: [
        ...(mayIssue ? [issueAction(month, as_known_on, today(ctx))] : []),
        ...actionsOf(month, as_known_on, today(ctx), mayIssue),
      ],
      chain: `Record ${seq}, ${hash}`,
    },
  }
}

/** As of when the figures are, and whether they stand. */
function datesOf({ issued_at, as_known_on }: MonthReview, wasIssued: boolean): string {
  const known = `as known on ${longDay(as_known_on)}`
  if (issued_at !== undefined) return `issued, ${known}`
  return wasIssued ? `${known}; the issued one stands` : `${known}; never issued`
}

/** A month is issued as known today, so whoever issues it sees it so before. */
function issueAction(month: string, asKnownOn: string, today: string): Action {
  if (asKnownOn !== today)
    return {
      kind: 'button',
      label: 'Look at it as known today, to issue it',
      main: true,
      href: `/months/${month}?as_of=${today}`,
    }
  return {
    kind: 'post',
    label: 'Issue it as it stands here',
    main: true,
    action: `/months/${month}/issue`,
    about: monthName(month),
  }
}

function toIssue(asKnownOn: string, today: string): string {
  if (asKnownOn === today) return 'These figures are kept for ever once the month is issued.'
  return `This is what was known on ${longDay(asKnownOn)}. What is issued is what is known on the day of issue.`
}

/** What has become known since the month was issued. */
function differsTable(differs: readonly KnownDifferently[], money: MoneyPen | null): TableView {
  const figure = ({ kind }: KnownDifferently, value: number | null) =>
    value === null ? 'not known' : kind === 'count' ? String(value) : money === null ? '' : money(value)
  return table({
    columns: [column('Figure'), column('As issued', 'figure'), column('Known today', 'figure')],
    rows: differs
      .filter(each => each.kind === 'count' || money !== null)
      .map(each => ({ cells: [each.what, figure(each, each.issued), figure(each, each.today)] })),
    empty: 'Nothing of it is known differently today.',
    stacks: false,
  })
}

function subject({ jobs, vehicles, book_hours, jobs_without_hours }: MonthFigures): string {
  const hours = book_hours === null ? 'book hours not stated' : counted(book_hours, 'book hour')
  const rest = book_hours === null || jobs_without_hours === 0 ? '' : `, ${jobs_without_hours} jobs without any`
  return `${counted(jobs, 'job')} handed back · ${counted(vehicles, 'vehicle')} · ${hours}${rest}`
}

function returnsAside(money: MoneyPen | null): string {
  const stripe = 'The stripe: a person has decided it. A return stands in the month in which the vehicle came in.'
  if (money === null) return stripe
  return `${stripe} Its cost belongs to this month: hours not billed at the cost rate, parts not billed, and the discount on what was paid. What was borne is another sum: the price with tax that customers were spared. The rate above belongs to the month in which the earlier job was handed back.`
}

function pairsStanding({ often, may, news }: MonthFigures['pairs']): string {
  const all = `${often} say “often”, ${may} say “may be”. An association, not a cause: only a finding says what caused it.`
  return news.length === 0 ? `Nothing new this month. In all, ${all}` : `In all, ${all}`
}

function actionsOf(month: string, asKnownOn: string, today: string, mayIssue: boolean): Action[] {
  const before = monthsTo(month, 1).find(each => monthFault(each, today) === null && each !== month)
  const after = nextMonth(month)
  return [
    ...(asKnownOn === today || mayIssue
      ? []
      : [{ kind: 'button' as const, label: 'As known today', href: `/months/${month}?as_of=${today}` }]),
    ...(before === undefined ? [] : [{ kind: 'link' as const, label: monthName(before), href: `/months/${before}` }]),
    ...(monthFault(after, today) === null
      ? [{ kind: 'link' as const, label: monthName(after), href: `/months/${after}` }]
      : []),
    { kind: 'link', label: 'All months', href: '/months' },
  ]
}

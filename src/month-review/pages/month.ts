import { longDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { type MonthFigures, type MonthReview, MonthReviewQuery } from '../contract.ts'
import { monthFault, monthsTo, nextMonth } from '../rules/months.ts'
import { monthReview, recordChain, today } from '../service/month-review.ts'
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
}

function pageOf(ctx: Context, review: MonthReview, money: MoneyPen | null): PageAnswer {
  const { month, as_known_on, figures } = review
  const isOwner = ctx.actor?.role === 'owner'
  const { seq, hash } = recordChain(ctx)
  return {
    template: 'month-review/month',
    sheet: {
      title: `Month review, ${monthName(month)}`,
      sheet_title: 'Month review',
      sheet_number: monthName(month),
      subject: subject(figures),
      dates: `as known on ${longDay(as_known_on)}`,
      nav: 'months',
    },
    view: {
      headline: headline(month, figures, money, isOwner),
      rates: { drawings: ratesChart(figures.rates), caption: ratesCaption(figures.rates) },
      rates_table: ratesTable(figures.rates),
      returns: returnsTable(figures.comebacks, { money, mayDecide: isOwner }),
      returns_aside: returnsAside(money),
      claims: claimsTable(figures.warranty, money),
      no_claims: `${counted(figures.warranty.jobs, 'job')} under warranty. No job has come back under warranty yet, so nothing can be foretold.`,
      doubt: doubtWords(figures.in_doubt),
      doubts: doubtsTable(figures.in_doubt),
      due: dueTable(figures.calibrations_due),
      left: leftWords(figures.left_for_later, money),
      pairs: pairsTable(figures.pairs, as_known_on),
      pairs_standing: pairsStanding(figures.pairs),
      charges: money === null ? null : chargesTable(figures, money),
      actions: actionsOf(month, as_known_on, today(ctx)),
      chain: `Record ${seq}, ${hash}`,
    },
  }
}

function subject({ jobs, vehicles, book_hours, jobs_without_hours }: MonthFigures): string {
  const hours = book_hours === null ? 'book hours not stated' : counted(book_hours, 'book hour')
  const rest = book_hours === null || jobs_without_hours === 0 ? '' : `, ${jobs_without_hours} jobs without any`
  return `${counted(jobs, 'job')} handed back · ${counted(vehicles, 'vehicle')} · ${hours}${rest}`
}

function returnsAside(money: MoneyPen | null): string {
  const stripe = 'The stripe: a person has decided it. A return stands in the month in which the vehicle came in.'
  if (money === null) return stripe
  return `${stripe} Its cost belongs to this month: hours not billed at the cost rate, parts not billed, and the discount on what was paid. The rate above belongs to the month in which the earlier job was handed back.`
}

function pairsStanding({ often, may, news }: MonthFigures['pairs']): string {
  const all = `${often} say “often”, ${may} say “may be”. An association, not a cause: only a finding says what caused it.`
  return news.length === 0 ? `Nothing new this month. In all, ${all}` : `In all, ${all}`
}

function actionsOf(month: string, asKnownOn: string, today: string): Action[] {
  const before = monthsTo(month, 1).find(each => monthFault(each, today) === null && each !== month)
  const after = nextMonth(month)
  return [
    ...(asKnownOn === today
      ? []
      : [{ kind: 'button' as const, label: 'As known today', href: `/months/${month}?as_of=${today}` }]),
    ...(before === undefined ? [] : [{ kind: 'link' as const, label: monthName(before), href: `/months/${before}` }]),
    ...(monthFault(after, today) === null
      ? [{ kind: 'link' as const, label: monthName(after), href: `/months/${after}` }]
      : []),
    { kind: 'link', label: 'All months', href: '/months' },
  ]
}

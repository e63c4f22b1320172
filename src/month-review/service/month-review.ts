import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { chainHead } from '../../platform/database/events.ts'
import { toInstant } from '../../platform/wire.ts'
import type { MonthReview, MonthReviewQuery } from '../contract.ts'
import { monthsOfJobs } from '../queries/handed-back.ts'
import { allIssues, issueOf, type MonthIssueRow } from '../queries/issues.ts'
import { type KnownDifferently, knownDifferently } from '../rules/known-differently.ts'
import { monthFault } from '../rules/months.ts'
import { staysToDecide } from '../rules/to-decide.ts'
import { actionsOf, causesOf, lossesOf } from './causes.ts'
import { comebacksOf, countReturns, suspectedNow } from './comebacks.ts'
import { countHandedBack, handedBackIn } from './handed-back.ts'
import { spanOf } from './span.ts'
import { calibrationsDue, doubtsOn, leftForLaterThen, pairsNewIn, ratesTo, warrantyOn } from './standing.ts'

const METHOD =
  'Rates by the month of the hand-back, costs by the month of the return. Cost of a return: hours not billed at the cost rate, parts not billed, and the discount on what was paid. As known on the day stated.'

/** A month: as it was issued, if it was and no day is asked for, else as known on a day. 422 as `spanOf`. */
export function monthReview(ctx: Context, month: string, query: MonthReviewQuery): MonthReview {
  const issue = query.as_of === undefined ? issueOf(ctx.read, month) : undefined
  return issue === undefined ? computedReview(ctx, month, query) : issuedReview(issue)
}

/** Whether the month was issued. */
export function isIssued(ctx: Context, month: string): boolean {
  return issueOf(ctx.read, month) !== undefined
}

/** What is known differently today of a month, as it was issued. */
export function differsFromIssued(ctx: Context, { month, figures }: MonthReview): KnownDifferently[] {
  return knownDifferently(figures, computedReview(ctx, month, { as_of: today(ctx) }).figures)
}

/** The month as it stands since it was issued. */
export function issuedReview(issue: MonthIssueRow): MonthReview {
  const { month, as_known_on, created_at, method } = issue
  return {
    month,
    as_known_on,
    issued_at: toInstant(created_at),
    method,
    figures: JSON.parse(issue.figures) as MonthReview['figures'],
  }
}

/** A month as it was known on a day: without one on its last, or today while it runs. 422 as `spanOf`. */
export function computedReview(ctx: Context, month: string, query: MonthReviewQuery): MonthReview {
  const span = spanOf(ctx, month, query)
  return {
    month,
    as_known_on: span.as_known_on,
    method: METHOD,
    figures: {
      ...handedBackIn(ctx, span),
      comebacks: comebacksOf(ctx, span),
      causes: causesOf(ctx, span),
      losses: lossesOf(ctx, span),
      actions: actionsOf(ctx, span),
      rates: ratesTo(ctx, span),
      warranty: warrantyOn(ctx, span),
      in_doubt: doubtsOn(ctx, span),
      pairs: pairsNewIn(ctx, span),
      calibrations_due: calibrationsDue(ctx, span),
      left_for_later: leftForLaterThen(ctx, span),
    },
  }
}

/** A month in the list: what was handed back in it, and what came back in it. */
export interface MonthInList {
  month: string
  jobs: number
  vehicles: number
  came_back: number
  waiting: number
  is_issued: boolean
  /** Null in a month without an invoice of ours. */
  net_minor: number | null
  borne_minor: number | null
}

/** Every month with a job of ours, newest first: each as its own page says it, issued, known at its end, or today while it runs. */
export function monthsReviewed(ctx: Context): MonthInList[] {
  const suspected = suspectedNow(ctx)
  const issued = new Map(allIssues(ctx.read).map(issue => [issue.month, issuedReview(issue).figures]))
  const months = monthsOfJobs(ctx.read).filter(month => monthFault(month, today(ctx)) === null)
  return months.map(month => {
    const figures = issued.get(month)
    return figures === undefined ? computedInList(ctx, month, suspected) : issuedInList(month, figures)
  })
}

function computedInList(ctx: Context, month: string, suspected: ReturnType<typeof suspectedNow>): MonthInList {
  const span = spanOf(ctx, month, {})
  const { jobs, vehicles, charges } = countHandedBack(ctx, span)
  const { net_minor, borne_minor } = charges
  return { month, jobs, vehicles, ...countReturns(ctx, span, suspected), is_issued: false, net_minor, borne_minor }
}

function issuedInList(month: string, { jobs, vehicles, charges, comebacks }: MonthReview['figures']): MonthInList {
  const { net_minor, borne_minor } = charges
  const waiting = staysToDecide(comebacks.waiting)
  return {
    month,
    jobs,
    vehicles,
    came_back: comebacks.jobs_came_back,
    waiting,
    is_issued: true,
    net_minor,
    borne_minor,
  }
}

/** The newest link of the record chain, which stands on paper so that a missing tail can be found. */
export function recordChain(ctx: Context): { seq: number; hash: string } {
  return chainHead(ctx.store.raw)
}

/** Today in the shop. */
export function today(ctx: Context): string {
  return asKnown(ctx).asOf
}

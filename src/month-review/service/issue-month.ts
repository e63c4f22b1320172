import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import type { MonthReview } from '../contract.ts'
import { insertIssue, issueOf } from '../queries/issues.ts'
import { monthRuns } from '../rules/months.ts'
import { computedReview, issuedReview, today } from './month-review.ts'

/**
 * Issues a month, once (O): its figures as known today are kept as data and stand from then on. 422 for a month that is none,
 * 409 `month-runs` before its last day is over, 409 `month-issued` the second time.
 */
export function issueMonth(ctx: Context, month: string): MonthReview {
  authorise(ctx)
  return write(ctx, tx => {
    const day = today(ctx)
    const review = computedReview(ctx, month, { as_of: day })
    if (monthRuns(month, day))
      throw problem('month-runs', { detail: 'Work of this month may still be handed back. Issue it once it is over.' })
    if (issueOf(tx, month) !== undefined)
      throw problem('month-issued', {
        detail: 'It stands as it was issued. What is known differently since is shown beside it.',
      })
    const row = {
      ...newRecord(ctx),
      month,
      as_known_on: review.as_known_on,
      method: review.method,
      figures: JSON.stringify(review.figures),
    }
    insertIssue(tx, row)
    recordEvent(ctx, tx, { action: 'month.issued', table: 'month_issues', id: row.id })
    return issuedReview(row)
  })
}

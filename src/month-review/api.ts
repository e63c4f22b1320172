import { type Api, apiRead } from '../platform/http/api-route.ts'
import { MonthReview, MonthReviewQuery } from './contract.ts'
import { monthReview } from './service/month-review.ts'

export function monthReviewApi(api: Api): void {
  apiRead(api, {
    url: '/month-reviews/:month',
    summary: 'Reviews a month: what was handed back, what came back and why, and what stands open.',
    query: MonthReviewQuery,
    answer: MonthReview,
    handle: (ctx, { params, query }) => ({ record: monthReview(ctx, params.month, query) }),
  })
}

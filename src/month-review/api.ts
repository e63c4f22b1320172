import { z } from 'zod'
import { type Api, apiRead, apiWrite } from '../platform/http/api-route.ts'
import { MonthReview, MonthReviewQuery } from './contract.ts'
import { issueMonth } from './service/issue-month.ts'
import { monthReview } from './service/month-review.ts'

export function monthReviewApi(api: Api): void {
  apiRead(api, {
    url: '/month-reviews/:month',
    summary: 'Reviews a month: what was handed back, what came back and why, and what stands open.',
    query: MonthReviewQuery,
    answer: MonthReview,
    handle: (ctx, { params, query }) => ({ record: monthReview(ctx, params.month, query) }),
  })
  apiWrite(api, {
    url: '/month-reviews/:month',
    method: 'POST',
    summary: 'Issues a month, once: its figures as known today stand from then on.',
    roles: [],
    body: z.strictObject({}),
    answer: MonthReview,
    handle: (ctx, { params }) => ({
      record: issueMonth(ctx, params.month),
      location: `/api/month-reviews/${params.month}`,
    }),
  })
}

/** What other capabilities may use. */
export type { MonthFigures, MonthReview, MonthReviewQuery } from './contract.ts'
export { monthReview } from './service/month-review.ts'

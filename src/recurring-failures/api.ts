import { type Api, apiRead } from '../platform/http/api-route.ts'
import { PriorWork, PriorWorkQuery, Recurrence, RecurrenceQuery } from './contract.ts'
import { priorWorkPairs } from './service/prior-work.ts'
import { recurrence } from './service/recurrence.ts'

export function recurringFailuresApi(api: Api): void {
  apiRead(api, {
    url: '/analysis/recurrence',
    summary: 'Repairs per vehicle by age, with limits: the mean cumulative function.',
    query: RecurrenceQuery,
    answer: Recurrence,
    handle: (ctx, { query }) => ({ record: recurrence(ctx, query).recurrence }),
  })
  apiRead(api, {
    url: '/analysis/prior-work',
    summary: 'Which failures follow which earlier work more often than they come without it.',
    query: PriorWorkQuery,
    answer: PriorWork,
    handle: (ctx, { query }) => ({ record: priorWorkPairs(ctx, query) }),
  })
}

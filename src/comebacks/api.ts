import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { pageOfWhole } from '../platform/http/small-collection.ts'
import { analysed } from '../platform/workers/analysed.ts'
import {
  ComebackDecision,
  ComebackDecisionInput,
  ComebackRate,
  ComebackRateQuery,
  Suspicion,
  SuspicionQuery,
} from './contract.ts'
import { comebackRates } from './service/comeback-rate.ts'
import { comebackDecision, comebackDecisions, decideComeback } from './service/decisions.ts'
import { openSuspicions } from './service/suspicions.ts'

export function comebacksApi(api: Api): void {
  apiList(api, {
    url: '/suspicions',
    summary: 'Lists the stays that may be there because of an earlier job, and are not decided yet.',
    query: SuspicionQuery,
    item: Suspicion,
    handle: (ctx, { query, page }) => pageOfWhole(openSuspicions(ctx, query), page),
  })
  apiList(api, {
    url: '/comeback-decisions',
    summary: 'Lists what was decided on comebacks, newest first.',
    item: ComebackDecision,
    handle: (ctx, { page }) => pageOf(comebackDecisions(ctx, page.limit + 1, page.cursor), page.limit, ({ id }) => id),
  })
  apiRead(api, {
    url: '/comeback-decisions/:id',
    summary: 'Reads a decision on a comeback.',
    answer: ComebackDecision,
    handle: (ctx, { params }) => ({ record: comebackDecision(ctx, params.id) }),
  })
  apiWrite(api, {
    url: '/comeback-decisions',
    method: 'POST',
    summary: 'Confirms or rules out that a stay is a comeback of an earlier job.',
    roles: [],
    body: ComebackDecisionInput,
    answer: ComebackDecision,
    handle: (ctx, { body }) => ({ record: decideComeback(ctx, body) }),
  })
  apiRead(api, {
    url: '/analysis/comeback-rate',
    summary: 'Comebacks per job handed back, by month, operation, cause, supplier or family.',
    query: ComebackRateQuery,
    answer: ComebackRate,
    handle: async (ctx, { query }) => ({ record: await analysed(ctx, 'comeback-rate', query, comebackRates) }),
  })
}

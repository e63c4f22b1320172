import { type Api, apiCompute, apiRead } from '../platform/http/api-route.ts'
import { analysed } from '../platform/workers/analysed.ts'
import {
  FirstChecks,
  FirstChecksInput,
  NewOrUsed,
  NewOrUsedInput,
  PriorWork,
  PriorWorkQuery,
  Recurrence,
  RecurrenceQuery,
  Season,
  SeasonQuery,
  WhileOpen,
  WhileOpenInput,
} from './contract.ts'
import { firstChecksFor, orderChecks } from './service/first-checks.ts'
import { newOrUsedFor } from './service/new-or-used.ts'
import { priorWorkPairs } from './service/prior-work.ts'
import { recurrence } from './service/recurrence.ts'
import { season } from './service/season.ts'
import { whileOpenFor } from './service/while-open.ts'

export function recurringFailuresApi(api: Api): void {
  apiRead(api, {
    url: '/analysis/recurrence',
    summary: 'Repairs per vehicle by age, with limits: the mean cumulative function.',
    query: RecurrenceQuery,
    answer: Recurrence,
    handle: async (ctx, { query }) => ({ record: (await analysed(ctx, 'recurrence', query, recurrence)).recurrence }),
  })
  apiRead(api, {
    url: '/analysis/prior-work',
    summary: 'Which failures follow which earlier work more often than they come without it.',
    query: PriorWorkQuery,
    answer: PriorWork,
    handle: async (ctx, { query }) => ({ record: await analysed(ctx, 'prior-work', query, priorWorkPairs) }),
  })
  apiCompute(api, {
    url: '/analysis/first-checks',
    summary: 'Which check first, when some are behind strip-down: by symptom and family, or by chances of your own.',
    body: FirstChecksInput,
    answer: FirstChecks,
    handle: (ctx, { body }) => ('symptom' in body ? firstChecksFor(ctx, body) : orderChecks(ctx, body)),
  })
  apiCompute(api, {
    url: '/analysis/while-open',
    summary: 'What to look at while a vehicle is open for some operations, and what leaving it costs.',
    body: WhileOpenInput,
    answer: WhileOpen,
    handle: (ctx, { body }) => whileOpenFor(ctx, body),
  })
  apiCompute(api, {
    url: '/analysis/new-or-used',
    summary: 'What a new part of a component, a used and a reconditioned one really cost, with the labour at risk.',
    body: NewOrUsedInput,
    answer: NewOrUsed,
    handle: (ctx, { body }) => newOrUsedFor(ctx, body),
  })
  apiRead(api, {
    url: '/analysis/season',
    summary: 'Whether a symptom, or the failures of a component, has a season.',
    query: SeasonQuery,
    answer: Season,
    handle: (ctx, { query }) => ({ record: season(ctx, query) }),
  })
}

import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { pageOfWhole } from '../platform/http/small-collection.ts'
import { analysed } from '../platform/workers/analysed.ts'
import {
  ComebackDecision,
  ComebackDecisionInput,
  ComebackRate,
  ComebackRateQuery,
  CorrectiveAction,
  CorrectiveActionInput,
  Loss,
  LossCause,
  LossCauseInput,
  Recovery,
  RecoveryInput,
  Suspicion,
  SuspicionQuery,
  WhatIf,
  WhatIfQuery,
} from './contract.ts'
import { correctiveAction, correctiveActions, recordCorrectiveAction } from './service/actions.ts'
import { comebackRates } from './service/comeback-rate.ts'
import { comebackDecision, comebackDecisions, decideComeback } from './service/decisions.ts'
import { lossById, lossesKnown, recordLossCause } from './service/losses.ts'
import { recordRecovery, recoveries, recovery } from './service/recoveries.ts'
import { openSuspicions } from './service/suspicions.ts'
import { whatIfLookedAt } from './service/what-if.ts'

export function comebacksApi(api: Api): void {
  decisionsApi(api)
  correctiveActionsApi(api)
  recoveriesApi(api)
  lossesApi(api)
}

function lossesApi(api: Api): void {
  apiList(api, {
    url: '/losses',
    summary: 'Lists what was done twice at our cost before a vehicle ever left, newest first.',
    item: Loss,
    handle: (ctx, { page }) => pageOfWhole(lossesKnown(ctx), page),
  })
  apiRead(api, {
    url: '/losses/:id',
    summary: 'Reads one loss, with the causes that were decided.',
    answer: Loss,
    handle: (ctx, { params }) => ({ record: lossById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/losses/:id/causes',
    summary: 'Decides why it was done twice.',
    roles: [],
    body: LossCauseInput,
    answer: LossCause,
    handle: (ctx, { params, body }) => ({
      record: recordLossCause(ctx, params.id, body),
      location: `/api/losses/${params.id}`,
    }),
  })
}

function decisionsApi(api: Api): void {
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

function correctiveActionsApi(api: Api): void {
  apiList(api, {
    url: '/corrective-actions',
    summary: 'Lists what was changed so that a cause does not come back, newest first, with how it has worked.',
    item: CorrectiveAction,
    handle: (ctx, { page }) => pageOf(correctiveActions(ctx, page.limit + 1, page.cursor), page.limit, ({ id }) => id),
  })
  apiRead(api, {
    url: '/analysis/what-if',
    summary: 'What a look on every job of an operation would take, and the comebacks that it might have caught.',
    query: WhatIfQuery,
    answer: WhatIf,
    handle: (ctx, { query }) => ({ record: whatIfLookedAt(ctx, query) }),
  })
  apiRead(api, {
    url: '/corrective-actions/:id',
    summary: 'Reads a corrective action, with the rate before it and since.',
    answer: CorrectiveAction,
    handle: (ctx, { params }) => ({ record: correctiveAction(ctx, params.id) }),
  })
  apiWrite(api, {
    url: '/corrective-actions',
    method: 'POST',
    summary: 'Records what was changed so that the cause of comebacks does not return.',
    roles: [],
    body: CorrectiveActionInput,
    answer: CorrectiveAction,
    handle: (ctx, { body }) => ({ record: recordCorrectiveAction(ctx, body) }),
  })
}

function recoveriesApi(api: Api): void {
  apiList(api, {
    url: '/recoveries',
    summary: 'Lists claims on suppliers for comebacks, newest first.',
    item: Recovery,
    handle: (ctx, { page }) => pageOf(recoveries(ctx, page.limit + 1, page.cursor), page.limit, ({ id }) => id),
  })
  apiRead(api, {
    url: '/recoveries/:id',
    summary: 'Reads a claim on a supplier.',
    answer: Recovery,
    handle: (ctx, { params }) => ({ record: recovery(ctx, params.id) }),
  })
  apiWrite(api, {
    url: '/recoveries',
    method: 'POST',
    summary: 'Records a claim on a supplier for a comeback, or what has become of one.',
    roles: [],
    body: RecoveryInput,
    answer: Recovery,
    handle: (ctx, { body }) => ({ record: recordRecovery(ctx, body) }),
  })
}

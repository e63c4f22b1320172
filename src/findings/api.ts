import { z } from 'zod'
import { Id } from '../platform/contract.ts'
import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { apiSmallCollection } from '../platform/http/small-collection.ts'
import {
  AdviceTelling,
  AdviceTellingInput,
  CheckMade,
  CheckMadeInput,
  FinalCheckResult,
  FinalCheckResultInput,
  Finding,
  FindingInput,
  LeftForLater,
  LeftForLaterInput,
  LookResult,
  LookResultInput,
  PriorWork,
  PriorWorkInput,
  SettleLeftForLaterInput,
} from './contract.ts'
import { adviceTellingsOf, tellFindings } from './service/advice-tellings.ts'
import { checksOfOrder, recordCheck } from './service/checks.ts'
import { findingsPage, oneFinding, recordFinding } from './service/findings.ts'
import { leaveForLater, leftForLaterPage, oneLeftForLater, settleLeftForLater } from './service/left-for-later.ts'
import { notePriorWork, priorWorksOf } from './service/prior-works.ts'
import { recordFinalCheck, recordLookResult, resultOfFinalCheck, resultOfLook } from './service/results.ts'

const OfVehicle = z.strictObject({ vehicle_id: Id.optional() })

export function findingsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/vehicles/:id/prior-works',
    summary: 'Notes work that was done on the vehicle earlier.',
    roles: ['desk', 'technician'],
    body: PriorWorkInput,
    answer: PriorWork,
    handle: (ctx, { params, body }) => ({ record: notePriorWork(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/vehicles/:id/prior-works',
    summary: 'Work that was done on the vehicle earlier, by whomever.',
    what: 'prior work',
    item: PriorWork,
    all: (ctx, { id }) => priorWorksOf(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/findings',
    summary: 'Notes what was seen on a vehicle.',
    roles: ['technician'],
    body: FindingInput,
    answer: Finding,
    handle: (ctx, { body }) => ({ record: recordFinding(ctx, body) }),
  })
  apiRead(api, {
    url: '/findings/:id',
    summary: 'One finding.',
    answer: Finding,
    handle: (ctx, { params }) => ({ record: oneFinding(ctx, params.id) }),
  })
  apiList(api, {
    url: '/findings',
    summary: 'The findings, on one vehicle or on all, newest first.',
    query: OfVehicle,
    item: Finding,
    handle: (ctx, { query, page }) =>
      pageOf(findingsPage(ctx, query.vehicle_id, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/looks/:id/result',
    summary: 'The outcome of a look: fine, a finding, or skipped with a reason.',
    roles: ['technician'],
    body: LookResultInput,
    answer: LookResult,
    handle: (ctx, { params, body }) => ({
      record: recordLookResult(ctx, params.id, body),
      location: `/api/looks/${params.id}/result`,
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/final-checks/:id/result',
    summary: 'The result of a final check; the newest counts.',
    roles: ['technician'],
    body: FinalCheckResultInput,
    answer: FinalCheckResult,
    handle: (ctx, { params, body }) => ({
      record: recordFinalCheck(ctx, params.id, body),
      location: `/api/final-checks/${params.id}/result`,
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/checks',
    summary: 'A component that was checked to find what is wrong: fine, or the finding that was made.',
    roles: ['technician'],
    body: CheckMadeInput,
    answer: CheckMade,
    handle: (ctx, { params, body }) => ({ record: recordCheck(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/work-orders/:id/checks',
    summary: 'What was checked during a stay to find what is wrong, oldest first.',
    what: 'check',
    item: CheckMade,
    all: (ctx, { id }) => checksOfOrder(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/advice-tellings',
    summary: 'The customer was told of findings: who, how, and what came back. It stands among the talks too.',
    roles: ['desk', 'technician'],
    body: AdviceTellingInput,
    answer: AdviceTelling,
    handle: (ctx, { params, body }) => ({ record: tellFindings(ctx, params.id, body) }),
  })
  apiSmallCollection(api, {
    url: '/work-orders/:id/advice-tellings',
    summary: 'What the customer of a stay was told of findings, oldest first.',
    what: 'telling',
    item: AdviceTelling,
    all: (ctx, { id }) => adviceTellingsOf(ctx, id),
  })
  apiRead(api, {
    url: '/looks/:id/result',
    summary: 'The outcome of a look.',
    answer: LookResult,
    handle: (ctx, { params }) => ({ record: resultOfLook(ctx, params.id) }),
  })
  apiRead(api, {
    url: '/final-checks/:id/result',
    summary: 'The newest result of a final check.',
    answer: FinalCheckResult,
    handle: (ctx, { params }) => ({ record: resultOfFinalCheck(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/left-for-later',
    summary: 'Notes advised work that the customer does not want now.',
    roles: ['desk', 'technician'],
    body: LeftForLaterInput,
    answer: LeftForLater,
    handle: (ctx, { body }) => ({ record: leaveForLater(ctx, body) }),
  })
  apiRead(api, {
    url: '/left-for-later/:id',
    summary: 'One piece of work left for later.',
    answer: LeftForLater,
    handle: (ctx, { params }) => ({ record: oneLeftForLater(ctx, params.id) }),
  })
  apiList(api, {
    url: '/left-for-later',
    summary: 'What was left for later, on one vehicle or on all, oldest first.',
    query: OfVehicle,
    item: LeftForLater,
    handle: (ctx, { query, page }) =>
      pageOf(leftForLaterPage(ctx, query.vehicle_id, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/left-for-later/:id/settlement',
    summary: 'Names the job that did at last what was left for later.',
    roles: ['desk', 'technician'],
    body: SettleLeftForLaterInput,
    answer: LeftForLater,
    handle: (ctx, { params, body }) => ({
      record: settleLeftForLater(ctx, params.id, body),
      location: `/api/left-for-later/${params.id}`,
    }),
  })
}

import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import {
  Authorisation,
  AuthorisationInput,
  AuthorisationWithdrawalInput,
  Estimate,
  EstimateInput,
  Talk,
  TalkInput,
} from '../contract/agreement.ts'
import {
  authorisationsOfOrder,
  authoriseAmount,
  estimatesOfOrder,
  makeEstimate,
  talksOfOrder,
  withdrawAuthorisation,
  writeTalk,
} from '../service/agreement.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** What was said, offered and agreed. */
export function agreementApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/talks',
    summary: 'Writes down a talk with the customer.',
    roles: ['desk', 'technician'],
    body: TalkInput,
    answer: Talk,
    handle: (ctx, { params, body }) => ({ record: writeTalk(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/work-orders/:id/talks',
    summary: 'The talks of a work order, oldest first.',
    item: Talk,
    handle: (ctx, { params, page }) => pageOfFew(talksOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/work-orders/:id/talks/:talk_id',
    summary: 'One talk.',
    answer: Talk,
    handle: (ctx, { params }) => ({ record: oneOfFew(talksOfOrder(ctx, params.id), 'talk', params.talk_id) }),
  })

  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/estimates',
    summary: 'Makes a new version of the estimate.',
    roles: ['desk'],
    body: EstimateInput,
    answer: Estimate,
    handle: (ctx, { params, body }) => ({ record: makeEstimate(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/work-orders/:id/estimates',
    summary: 'Every version of the estimate, oldest first.',
    item: Estimate,
    handle: (ctx, { params, page }) => pageOfFew(estimatesOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/work-orders/:id/estimates/:estimate_id',
    summary: 'One version of the estimate.',
    answer: Estimate,
    handle: (ctx, { params }) => ({
      record: oneOfFew(estimatesOfOrder(ctx, params.id), 'estimate', params.estimate_id),
    }),
  })

  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/authorisations',
    summary: "Records the customer's yes to a total.",
    roles: ['desk'],
    body: AuthorisationInput,
    answer: Authorisation,
    handle: (ctx, { params, body }) => ({ record: authoriseAmount(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/work-orders/:id/authorisations',
    summary: 'Every yes of the customer, oldest first.',
    item: Authorisation,
    handle: (ctx, { params, page }) => pageOfFew(authorisationsOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/work-orders/:id/authorisations/:authorisation_id',
    summary: 'One yes.',
    answer: Authorisation,
    handle: (ctx, { params }) => ({
      record: oneOfFew(authorisationsOfOrder(ctx, params.id), 'authorisation', params.authorisation_id),
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/authorisations/:authorisation_id/withdrawal',
    summary: 'Takes back a yes that was written down wrongly: it stays, and counts no more.',
    roles: ['desk'],
    body: AuthorisationWithdrawalInput,
    answer: Authorisation,
    handle: (ctx, { params, body }) => ({
      record: withdrawAuthorisation(ctx, params.id, params.authorisation_id, body.reason),
      location: `/api/work-orders/${params.id}/authorisations/${params.authorisation_id}`,
    }),
  })
}

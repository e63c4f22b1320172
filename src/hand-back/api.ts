import { type Api, apiRead, apiWrite } from '../platform/http/api-route.ts'
import { Closing, ClosingInput, EngineTurn, EngineTurnInput, Voiding, VoidingInput } from '../work-orders/contract.ts'
import { HandBack, HandBackInput } from './contract.ts'
import { closeStep } from './service/close-step.ts'
import { turnEngine } from './service/engine.ts'
import { handBack, handBackById } from './service/hand-back.ts'
import { voidJobSafely } from './service/void-job.ts'

export function handBackApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/steps/:step_id/closings',
    summary: 'Closes a strip-down step; 409 step-blocked while something behind it is not done.',
    roles: ['technician'],
    body: ClosingInput,
    answer: Closing,
    handle: (ctx, { params, body }) => ({ record: closeStep(ctx, params.id, params.step_id, body) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/engine-turns',
    summary: 'The engine was turned by hand, or started; 409 engine-blocked while it may not be.',
    roles: ['technician'],
    body: EngineTurnInput,
    answer: EngineTurn,
    handle: (ctx, { params, body }) => ({ record: turnEngine(ctx, params.id, body) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/voiding',
    summary: 'Voids a job that is not done after all.',
    roles: ['desk'],
    body: VoidingInput,
    answer: Voiding,
    handle: (ctx, { params, body }) => ({
      record: voidJobSafely(ctx, params.id, body),
      location: `/api/jobs/${params.id}/voiding`,
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/hand-back',
    summary:
      'Hands the vehicle back and makes the invoice; 409 hand-back-blocked while something is missing. Jobs that nobody has called done (jobs/{id}/completion) stand in to_ask, before on the work order and then here.',
    roles: ['desk'],
    body: HandBackInput,
    answer: HandBack,
    handle: (ctx, { params, body }) => ({
      record: handBack(ctx, params.id, body),
      location: `/api/work-orders/${params.id}/hand-back`,
    }),
  })
  apiRead(api, {
    url: '/work-orders/:id/hand-back',
    summary: 'The hand-back of a work order, with its invoice and warranties.',
    answer: HandBack,
    handle: (ctx, { params }) => ({ record: handBackById(ctx, params.id) }),
  })
}

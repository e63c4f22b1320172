import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { Closing, Opening, OpeningInput } from '../contract/job.ts'
import { closingsOfStep, openingsOfStep, openStep } from '../service/steps.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** Strip-down steps, opened. Closing one is hand-back's, which knows what is behind it. */
export function stepsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/steps/:step_id/openings',
    summary: 'Opens a strip-down step for all jobs of the order.',
    roles: ['technician'],
    body: OpeningInput,
    answer: Opening,
    handle: (ctx, { params, body }) => ({ record: openStep(ctx, params.id, params.step_id, body) }),
  })
  apiList(api, {
    url: '/jobs/:id/steps/:step_id/openings',
    summary: 'When the step was opened, by whichever job, oldest first.',
    item: Opening,
    handle: (ctx, { params, page }) => pageOfFew(openingsOfStep(ctx, params.id, params.step_id), page),
  })
  apiRead(api, {
    url: '/jobs/:id/steps/:step_id/openings/:opening_id',
    summary: 'One opening.',
    answer: Opening,
    handle: (ctx, { params }) => ({
      record: oneOfFew(openingsOfStep(ctx, params.id, params.step_id), 'opening of the step', params.opening_id),
    }),
  })
  apiList(api, {
    url: '/jobs/:id/steps/:step_id/closings',
    summary: 'When the step was closed, by whichever job, oldest first.',
    item: Closing,
    handle: (ctx, { params, page }) => pageOfFew(closingsOfStep(ctx, params.id, params.step_id), page),
  })
  apiRead(api, {
    url: '/jobs/:id/steps/:step_id/closings/:closing_id',
    summary: 'One closing.',
    answer: Closing,
    handle: (ctx, { params }) => ({
      record: oneOfFew(closingsOfStep(ctx, params.id, params.step_id), 'closing of the step', params.closing_id),
    }),
  })
}

import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import {
  Completion,
  CompletionInput,
  Job,
  JobInput,
  PartLine,
  PartLineInput,
  PartLineRemovalInput,
  Voiding,
} from '../contract/job.ts'
import { addJob, completeJob, completionOfJob, voidingOfJob } from '../service/jobs.ts'
import { addPartLine, partLinesOfJob, removePartLine } from '../service/part-lines.ts'
import { jobById, jobsOfOrder } from '../service/plan.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** Jobs and their parts. Voiding one is hand-back's: it looks at the joints first. */
export function jobsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/jobs',
    summary: 'Adds a job with its plan: an operation, or a task of your own with its hours.',
    roles: ['desk', 'technician'],
    body: JobInput,
    answer: Job,
    handle: (ctx, { params, body }) => {
      const job = addJob(ctx, params.id, body)
      return { record: job, location: `/api/jobs/${job.id}` }
    },
  })
  apiList(api, {
    url: '/work-orders/:id/jobs',
    summary: 'The jobs of a work order, in the order in which they were added.',
    item: Job,
    handle: (ctx, { params, page }) => pageOfFew(jobsOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/jobs/:id',
    summary: 'A job with its plan and the state of its steps.',
    answer: Job,
    handle: (ctx, { params }) => ({ record: jobById(ctx, params.id) }),
  })
  apiRead(api, {
    url: '/jobs/:id/voiding',
    summary: 'Why a job was voided.',
    answer: Voiding,
    handle: (ctx, { params }) => ({ record: voidingOfJob(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/completion',
    summary: 'Says that the work of a job without joints, such as a task of your own, is done.',
    roles: ['technician'],
    body: CompletionInput,
    answer: Completion,
    handle: (ctx, { params, body }) => ({
      record: completeJob(ctx, params.id, body),
      location: `/api/jobs/${params.id}/completion`,
    }),
  })
  apiRead(api, {
    url: '/jobs/:id/completion',
    summary: 'Who said that a job is done.',
    answer: Completion,
    handle: (ctx, { params }) => ({ record: completionOfJob(ctx, params.id) }),
  })
  partLinesApi(api)
}

function partLinesApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/part-lines',
    summary: 'Adds a part to a job.',
    roles: ['desk', 'technician'],
    body: PartLineInput,
    answer: PartLine,
    handle: (ctx, { params, body }) => ({ record: addPartLine(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/jobs/:id/part-lines',
    summary: 'The parts of a job, those taken off again too.',
    item: PartLine,
    handle: (ctx, { params, page }) => pageOfFew(partLinesOfJob(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/jobs/:id/part-lines/:line_id',
    summary: 'One part line.',
    answer: PartLine,
    handle: (ctx, { params }) => ({
      record: oneOfFew(partLinesOfJob(ctx, params.id), 'part line of this job', params.line_id),
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/jobs/:id/part-lines/:line_id/removal',
    summary: 'Takes a part off again that was not used or written down wrongly: it stays, and counts no more.',
    roles: ['desk', 'technician'],
    body: PartLineRemovalInput,
    answer: PartLine,
    handle: (ctx, { params, body }) => ({
      record: removePartLine(ctx, params.id, params.line_id, body.reason),
      location: `/api/jobs/${params.id}/part-lines/${params.line_id}`,
    }),
  })
}

import { type Api, apiWrite } from '../../platform/http/api-route.ts'
import { apiSmallCollection } from '../../platform/http/small-collection.ts'
import { BatchFault, BatchFaultInput } from '../contract/batch-faults.ts'
import { batchFaultsOfPart, reportBatchFault } from '../service/batch-faults.ts'

export function batchFaultsApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/parts/:id/batch-faults',
    summary: 'Lists the batches of a part that were found bad.',
    what: 'batch fault',
    item: BatchFault,
    all: (ctx, { id }) => batchFaultsOfPart(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/parts/:id/batch-faults',
    summary: 'Says that a batch of a part is bad: every joint that got any of it is in doubt.',
    roles: ['desk', 'technician'],
    body: BatchFaultInput,
    answer: BatchFault,
    handle: (ctx, { params, body }) => ({ record: reportBatchFault(ctx, params.id, body) }),
  })
}

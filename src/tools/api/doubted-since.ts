import { type Api, apiWrite } from '../../platform/http/api-route.ts'
import { apiSmallCollection } from '../../platform/http/small-collection.ts'
import { DoubtedSince, DoubtedSinceInput } from '../contract/doubted-since.ts'
import { doubtedSinceOf, sayDoubtedSince } from '../service/doubted-since.ts'

export function doubtedSinceApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/calibrations/:id/doubted-since',
    summary: 'Lists since when a wrench that was found outside is doubted, as people have said; the last one counts.',
    what: 'doubted-since record',
    item: DoubtedSince,
    all: (ctx, { id }) => doubtedSinceOf(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/calibrations/:id/doubted-since',
    summary: 'Says why only what a wrench touched from a time on is in doubt.',
    roles: ['technician'],
    body: DoubtedSinceInput,
    answer: DoubtedSince,
    handle: (ctx, { params, body }) => ({ record: sayDoubtedSince(ctx, params.id, body) }),
  })
}

import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { MovedPromise, Wait, WaitEndInput, WaitInput } from '../contract/waits.ts'
import { addWait, endWait, movedPromisesOfOrder, waitById, waitsOfOrder } from '../service/waits.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** What a vehicle waits for, and the promised days that were moved. */
export function waitsApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/waits',
    summary: 'Writes down what a vehicle waits for, from whom, and when it is expected.',
    roles: ['desk', 'technician'],
    body: WaitInput,
    answer: Wait,
    handle: (ctx, { params, body }) => ({ record: addWait(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/work-orders/:id/waits',
    summary: 'What a vehicle waits and has waited for, oldest first.',
    item: Wait,
    handle: (ctx, { params, page }) => pageOfFew(waitsOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/work-orders/:id/waits/:wait_id',
    summary: 'One thing that a vehicle waits for.',
    answer: Wait,
    handle: (ctx, { params }) => ({ record: oneOfFew(waitsOfOrder(ctx, params.id), 'wait', params.wait_id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/waits/:id/end',
    summary: 'It is here, or nobody waits for it any more.',
    roles: ['desk', 'technician'],
    body: WaitEndInput,
    answer: Wait,
    handle: (ctx, { params, body }) => ({
      record: endWait(ctx, params.id, body),
      location: `/api/work-orders/${waitById(ctx, params.id).work_order_id}/waits/${params.id}`,
    }),
  })
  apiList(api, {
    url: '/work-orders/:id/moved-promises',
    summary: 'The promised days of a work order that were moved, oldest first.',
    item: MovedPromise,
    handle: (ctx, { params, page }) => pageOfFew(movedPromisesOfOrder(ctx, params.id), page),
  })
}

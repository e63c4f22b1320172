import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { CustomerErasure, CustomerErasureInput } from '../vehicles/contract.ts'
import { WorkOrderInput, WorkOrderPatch } from '../work-orders/contract.ts'
import { FindQuery, FoundInBox, PersonalData, WorkOrder, WorkOrdersQuery } from './contract.ts'
import { eraseCustomer, erasureOfCustomer } from './service/erasure.ts'
import { personalDataOf } from './service/personal-data.ts'
import { changeInFull, foundInFull, listWorkOrders, openInFull, workOrderInFull } from './service/work-orders.ts'

/** Work orders as they stand, with what the record says about their vehicle, and the one box. */
export function takeInApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders',
    summary: 'Takes a vehicle in.',
    roles: ['desk'],
    body: WorkOrderInput,
    answer: WorkOrder,
    handle(ctx, { body }) {
      const record = openInFull(ctx, body)
      return { record, version: record.version }
    },
  })
  apiList(api, {
    url: '/work-orders',
    summary: 'Work orders, newest first; by state if asked.',
    query: WorkOrdersQuery,
    item: WorkOrder,
    handle(ctx, { query, page }) {
      const orders = listWorkOrders(ctx, { state: query.state, after: page.cursor, limit: page.limit + 1 })
      return pageOf(orders, page.limit, order => order.id)
    },
  })
  apiRead(api, {
    url: '/work-orders/:id',
    summary: 'A work order with its state, flags, blockers and totals.',
    answer: WorkOrder,
    handle(ctx, { params }) {
      const record = workOrderInFull(ctx, params.id)
      return { record, version: record.version }
    },
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/work-orders/:id',
    summary: 'Changes a work order; the vehicle stays.',
    roles: ['desk'],
    body: WorkOrderPatch,
    answer: WorkOrder,
    handle(ctx, { params, body, version }) {
      const record = changeInFull(ctx, params.id, version, body)
      return { record, version: record.version }
    },
  })
  apiRead(api, {
    url: '/find',
    summary: 'The one box: vehicles, customers and work orders by any number or name.',
    query: FindQuery,
    answer: FoundInBox,
    handle: (ctx, { query }) => ({ record: foundInFull(ctx, query.q) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/customers/:id/erasure',
    summary: 'Empties the personal words of a customer at their wish.',
    roles: [],
    body: CustomerErasureInput,
    answer: CustomerErasure,
    handle: (ctx, { params, body }) => ({
      record: eraseCustomer(ctx, params.id, body.reason),
      location: `/api/customers/${params.id}/erasure`,
    }),
  })
  apiRead(api, {
    url: '/customers/:id/personal-data',
    summary: 'All that is written down of a customer, to be handed to them.',
    answer: PersonalData,
    handle: (ctx, { params }) => ({ record: personalDataOf(ctx, params.id) }),
  })
  apiRead(api, {
    url: '/customers/:id/erasure',
    summary: 'When and why a customer was erased.',
    answer: CustomerErasure,
    handle: (ctx, { params }) => ({ record: erasureOfCustomer(ctx, params.id) }),
  })
}

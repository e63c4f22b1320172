import { type Api, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { versioned } from '../platform/http/outcomes.ts'
import { batchFaultsApi } from './api/batch-faults.ts'
import { Part, PartInput, PartPatch, Supplier, SupplierInput, SupplierPatch } from './contract.ts'
import {
  createPart,
  createSupplier,
  partById,
  partsPage,
  supplierById,
  suppliersPage,
  updatePart,
  updateSupplier,
} from './service.ts'

export function partsApi(api: Api): void {
  apiList(api, {
    url: '/parts',
    summary: 'Lists parts, newest first.',
    item: Part,
    handle: (ctx, { page }) => pageOf(partsPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/parts/:id',
    summary: 'Reads a part.',
    answer: Part,
    handle: (ctx, { params }) => versioned(partById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/parts',
    summary: 'Adds a part.',
    roles: ['desk'],
    body: PartInput,
    answer: Part,
    handle: (ctx, { body }) => versioned(createPart(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/parts/:id',
    summary: 'Changes a part.',
    roles: ['desk'],
    body: PartPatch,
    answer: Part,
    handle: (ctx, { params, body, version }) => versioned(updatePart(ctx, params.id, version, body)),
  })
  batchFaultsApi(api)
  suppliersApi(api)
}

function suppliersApi(api: Api): void {
  apiList(api, {
    url: '/suppliers',
    summary: 'Lists suppliers, newest first.',
    item: Supplier,
    handle: (ctx, { page }) => pageOf(suppliersPage(ctx, page.limit + 1, page.cursor), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/suppliers/:id',
    summary: 'Reads a supplier.',
    answer: Supplier,
    handle: (ctx, { params }) => versioned(supplierById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/suppliers',
    summary: 'Adds a supplier.',
    roles: ['desk'],
    body: SupplierInput,
    answer: Supplier,
    handle: (ctx, { body }) => versioned(createSupplier(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/suppliers/:id',
    summary: 'Changes a supplier.',
    roles: ['desk'],
    body: SupplierPatch,
    answer: Supplier,
    handle: (ctx, { params, body, version }) => versioned(updateSupplier(ctx, params.id, version, body)),
  })
}

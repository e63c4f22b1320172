import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { versioned } from '../../platform/http/outcomes.ts'
import { pageOfWhole } from '../../platform/http/small-collection.ts'
import { Adapter, AdapterInput, AdapterPatch } from '../contract.ts'
import { adapterById, allAdapters, registerAdapter, updateAdapter } from '../service/adapters.ts'

export function adaptersApi(api: Api): void {
  apiList(api, {
    url: '/adapters',
    summary: 'Lists the adapters of the torque wrenches, by name.',
    item: Adapter,
    handle: (ctx, { page }) => pageOfWhole(allAdapters(ctx), page),
  })
  apiRead(api, {
    url: '/adapters/:id',
    summary: 'Reads an adapter.',
    answer: Adapter,
    handle: (ctx, { params }) => versioned(adapterById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/adapters',
    summary: 'Adds an adapter to the register.',
    roles: [],
    body: AdapterInput,
    answer: Adapter,
    handle: (ctx, { body }) => versioned(registerAdapter(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/adapters/:id',
    summary: 'Changes an adapter.',
    roles: [],
    body: AdapterPatch,
    answer: Adapter,
    handle: (ctx, { params, body, version }) => versioned(updateAdapter(ctx, params.id, version, body)),
  })
}

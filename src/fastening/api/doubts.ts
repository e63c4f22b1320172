import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { pageOfWhole } from '../../platform/http/small-collection.ts'
import {
  CauseSettlement,
  CauseSettlementInput,
  Doubt,
  DoubtSettlement,
  DoubtSettlementInput,
  PartInDoubt,
  PartSettlement,
  PartSettlementInput,
} from '../contract/doubt.ts'
import { allDoubts, doubtById } from '../service/doubts.ts'
import { allPartsInDoubt, requirePart } from '../service/parts-in-doubt.ts'
import { settleCause, settleDoubt, settlePart } from '../service/settle-doubts.ts'

export function doubtsApi(api: Api): void {
  apiList(api, {
    url: '/doubts',
    summary: 'Joints in doubt: safety first, vehicles that have left first.',
    item: Doubt,
    handle: (ctx, { page }) => pageOfWhole(allDoubts(ctx), page),
  })
  apiRead(api, {
    url: '/doubts/:id',
    summary: 'One doubt about a joint, and how it was settled.',
    answer: Doubt,
    handle: (ctx, { params }) => ({ record: doubtById(ctx, params.id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/doubts/:id/settlement',
    summary: 'A person settles a doubt about a joint; where safety hangs on it, with a second person.',
    roles: ['technician'],
    body: DoubtSettlementInput,
    answer: DoubtSettlement,
    handle: (ctx, { params, body }) => ({
      record: settleDoubt(ctx, params.id, body),
      location: `/api/doubts/${params.id}`,
    }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/doubts/settlements',
    summary: 'A person settles at once all that one cause has put in doubt.',
    roles: ['technician'],
    body: CauseSettlementInput,
    answer: CauseSettlement,
    handle: (ctx, { body }) => ({ record: settleCause(ctx, body), location: '/api/doubts' }),
  })
  partsApi(api)
}

function partsApi(api: Api): void {
  apiList(api, {
    url: '/parts-in-doubt',
    summary: 'Parts of batches that were found bad, fitted without a word of the joint.',
    item: PartInDoubt,
    handle: (ctx, { page }) => pageOfWhole(allPartsInDoubt(ctx), page),
  })
  apiRead(api, {
    url: '/parts-in-doubt/:id',
    summary: 'One such part, and how it was settled.',
    answer: PartInDoubt,
    handle: (ctx, { params }) => ({ record: requirePart(ctx, params.id).part }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/parts-in-doubt/:id/settlement',
    summary: 'A person settles a doubt about a part.',
    roles: ['technician'],
    body: PartSettlementInput,
    answer: PartSettlement,
    handle: (ctx, { params, body }) => ({
      record: settlePart(ctx, params.id, body),
      location: `/api/parts-in-doubt/${params.id}`,
    }),
  })
}

import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { BoxPlace, BoxPlaceInput, PartBox, PartBoxInput } from '../contract/boxes.ts'
import { addPartBox, partBoxById, partBoxesOfOrder, placePartBox } from '../service/boxes.ts'
import { oneOfFew, pageOfFew } from './records.ts'

/** Boxes of loose parts, and where they stand. */
export function boxesApi(api: Api): void {
  apiWrite(api, {
    method: 'POST',
    url: '/work-orders/:id/boxes',
    summary: 'Adds a box of loose parts with the place where it stands.',
    roles: ['desk', 'technician'],
    body: PartBoxInput,
    answer: PartBox,
    handle: (ctx, { params, body }) => ({ record: addPartBox(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/work-orders/:id/boxes',
    summary: 'The boxes of loose parts of a work order, oldest first.',
    item: PartBox,
    handle: (ctx, { params, page }) => pageOfFew(partBoxesOfOrder(ctx, params.id), page),
  })
  apiRead(api, {
    url: '/work-orders/:id/boxes/:box_id',
    summary: 'One box of loose parts.',
    answer: PartBox,
    handle: (ctx, { params }) => ({ record: oneOfFew(partBoxesOfOrder(ctx, params.id), 'box', params.box_id) }),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/boxes/:id/places',
    summary: 'A box was put somewhere else, or, without a place, is empty.',
    roles: ['desk', 'technician'],
    body: BoxPlaceInput,
    answer: BoxPlace,
    handle: (ctx, { params, body }) => ({ record: placePartBox(ctx, params.id, body) }),
  })
  apiList(api, {
    url: '/boxes/:id/places',
    summary: 'Where a box has stood, oldest first.',
    item: BoxPlace,
    handle: (ctx, { params, page }) => pageOfFew(partBoxById(ctx, params.id).places, page),
  })
  apiRead(api, {
    url: '/boxes/:id/places/:place_id',
    summary: 'One place of a box.',
    answer: BoxPlace,
    handle: (ctx, { params }) => ({ record: oneOfFew(partBoxById(ctx, params.id).places, 'place', params.place_id) }),
  })
}

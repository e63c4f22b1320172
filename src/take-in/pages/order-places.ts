import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm, pagePost, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { qrCode } from '../../platform/pages/qr.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { plate, ref, type Words, words } from '../../platform/pages/words.ts'
import { customerById, type Vehicle, vehicleById } from '../../vehicles/index.ts'
import { BoxPlaceInput, type PartBox, PartBoxInput } from '../../work-orders/contract.ts'
import {
  addPartBox,
  partBoxById,
  partBoxesOfOrder,
  placeOfBox,
  placePartBox,
  workOrderById,
} from '../../work-orders/index.ts'
import { orderHead } from './order-head.ts'
import { familyWords, type Pen, penOf, titleOf } from './pen.ts'

/** Where the vehicle and its boxes of loose parts are: a box is added, moved and emptied, and all of it prints as labels. */
export function orderPlacesPages(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/boxes',
    roles: ['desk', 'technician'],
    contract: PartBoxInput,
    page: (ctx, { params, form }) => ({
      template: 'take-in/small-form',
      sheet: orderHead(ctx, params.id, 'Add a box'),
      view: {
        says: 'Loose parts that came off: what is in the box, and where anybody finds it.',
        fields: Object.values(form.fields()),
        lists: [],
        action: `/work-orders/${params.id}/boxes`,
        label: 'Add the box',
        back: `/work-orders/${params.id}`,
      },
    }),
    submit(ctx, input, { params }) {
      addPartBox(ctx, params.id, input)
      return { to: `/work-orders/${params.id}#places`, notice: 'Written down. Its label can be printed.' }
    },
  })
  pageForm(pages, {
    url: '/boxes/:id/place',
    roles: ['desk', 'technician'],
    contract: BoxPlaceInput.required(),
    page(ctx, { params, form }) {
      const box = partBoxById(ctx, params.id)
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, box.work_order_id, 'Put a box elsewhere'),
        view: {
          says: `${box.what}: ${placeOfBox(box) ?? 'empty'} until now.`,
          fields: Object.values(form.fields()),
          lists: [],
          action: `/boxes/${box.id}/place`,
          label: 'It stands there',
          back: `/work-orders/${box.work_order_id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      placePartBox(ctx, params.id, input)
      return { to: `/work-orders/${partBoxById(ctx, params.id).work_order_id}#places`, notice: 'Written down.' }
    },
  })
  pagePost(pages, {
    url: '/boxes/:id/emptied',
    roles: ['desk', 'technician'],
    contract: BoxPlaceInput.pick({}),
    submit(ctx, _input, { params }) {
      placePartBox(ctx, params.id, {})
      const { work_order_id, what } = partBoxById(ctx, params.id)
      return { to: `/work-orders/${work_order_id}#places`, notice: `Empty: ${what}.` }
    },
  })
  pageRead(pages, {
    url: '/work-orders/:id/labels',
    handle: (ctx, { params, origin }) => ({
      template: 'take-in/labels',
      sheet: orderHead(ctx, params.id, 'Labels'),
      view: { labels: labelsOf(ctx, params.id, origin), back: `/work-orders/${params.id}` },
    }),
  })
}

/** The boxes of an order, with what can be done with each; null when there is none. */
export function boxesTable(ctx: Context, orderId: string, mayMove: boolean): TableView | null {
  const boxes = partBoxesOfOrder(ctx, orderId)
  if (boxes.length === 0) return null
  const pen = penOf(settingsOf(ctx))
  const people = namesOfPeople(ctx)
  return table({
    columns: [column('Box'), column('Where it stands'), column('Since', 'date'), column('')],
    rows: boxes.map(box => boxRow(box, pen, people, mayMove)),
  })
}

function boxRow(box: PartBox, pen: Pen, people: Map<string, string>, mayMove: boolean): Row {
  const place = placeOfBox(box)
  const last = box.places.at(-1)!
  const who = people.get(last.created_by ?? '') ?? 'the program'
  const before = box.places.slice(0, -1).flatMap(each => each.place ?? 'empty')
  const stands: Words = place ?? 'empty: everything is back on'
  return {
    signed: place === null,
    cells: [
      box.what,
      { text: stands, notes: before.length === 0 ? [] : [`before: ${before.join(', ')}`] },
      { text: pen.moment(Date.parse(last.created_at)), notes: [who] },
      mayMove && place !== null
        ? {
            actions: [
              { kind: 'post', label: 'It is empty', action: `/boxes/${box.id}/emptied`, about: box.what },
              { kind: 'link', label: 'It stands elsewhere', href: `/boxes/${box.id}/place`, about: box.what },
            ],
          }
        : '',
    ],
  }
}

interface Label {
  heading: Words
  what: string
  lines: string[]
  qr: ReturnType<typeof qrCode>
}

/** One for the key of the vehicle, one for each box that is not empty; the code leads to the work order. */
function labelsOf(ctx: Context, orderId: string, origin: string): Label[] {
  const order = workOrderById(ctx, orderId)
  const vehicle = vehicleById(ctx, order.vehicle_id)
  const qr = qrCode(`${origin}/work-orders/${orderId}`)
  const heading = words(vehiclePlate(vehicle), ' ', ref(order.number))
  const boxes = partBoxesOfOrder(ctx, orderId).filter(box => placeOfBox(box) !== null)
  return [
    {
      heading,
      what: familyWords(vehicle),
      lines: ['Key', customerById(ctx, order.customer_id).name, ...(order.place === undefined ? [] : [order.place])],
      qr,
    },
    ...boxes.map((box, nth) => ({
      heading,
      what: box.what,
      lines: [`Box ${nth + 1} of ${boxes.length}`, placeOfBox(box) ?? ''],
      qr,
    })),
  ]
}

function vehiclePlate(vehicle: Vehicle) {
  return vehicle.plate === undefined ? titleOf(vehicle) : plate(vehicle.plate)
}

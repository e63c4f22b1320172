import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { ref, words } from '../../platform/pages/words.ts'
import { notFound } from '../../platform/problems.ts'
import { TalkInput } from '../../work-orders/contract.ts'
import { writeTalk } from '../../work-orders/index.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import { type DoubtedVehicle, inDoubt } from '../service/in-doubt.ts'
import { vehicleFacts, vehicleWords } from './words.ts'

/** Whoever calls about a doubt writes down what was said, as a talk of the work order that the doubt is about. */
export function callPage(pages: Pages): void {
  pageForm(pages, {
    url: '/in-doubt/calls/:order_id',
    roles: ['desk', 'technician'],
    contract: TalkInput,
    initial: (ctx, { params }) => {
      const { about, vehicle } = toCallAbout(ctx, params.order_id)
      return {
        values: {
          with: vehicle.call?.name ?? '',
          how: 'By telephone',
          said: `About ${about.map(subjectOf).join('; ')}: `,
        },
      }
    },
    page(ctx, { params, form }) {
      const { about, vehicle } = toCallAbout(ctx, params.order_id)
      return {
        template: 'fastening/call',
        sheet: {
          title: 'Note the call',
          sheet_number: words('Order ', ref(about[0]!.work_order_number)),
          subject: vehicleWords(vehicle),
          nav: 'in-doubt',
        },
        view: {
          facts: vehicleFacts(vehicle),
          sentences: about.map(each => ({ word: 'To say', text: each.customer_sentence })),
          fields: form.fields(),
          action: `/in-doubt/calls/${params.order_id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      toCallAbout(ctx, params.order_id)
      writeTalk(ctx, params.order_id, input)
      return { to: '/in-doubt', notice: 'Written down. It stands on the work order too.' }
    },
  })
}

/** What is in doubt on a work order, and whom to call. 404 when nothing is. */
function toCallAbout(ctx: Context, orderId: string): { about: (Doubt | PartInDoubt)[]; vehicle: DoubtedVehicle } {
  const { open, vehicles } = inDoubt(ctx)
  const about = open
    .flatMap(({ joints, parts }) => [...joints, ...parts])
    .filter(each => each.work_order_id === orderId)
  const [first] = about
  if (first === undefined) throw notFound('open doubt on work order', orderId)
  return { about, vehicle: vehicles.get(first.vehicle_id)! }
}

/** "Drive flange, batch 31-318". */
function subjectOf(each: Doubt | PartInDoubt): string {
  return `${'joint_name' in each ? each.joint_name : 'a part that was fitted'}, ${each.because}`
}

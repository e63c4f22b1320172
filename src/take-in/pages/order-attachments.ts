import { attachmentsOf, attachmentsOnJobs } from '../../attachments/index.ts'
import type { Context } from '../../platform/context.ts'
import { type AttachmentSet, addAttachmentAddress, attachmentSet } from '../../platform/pages/attachments.ts'
import type { OrderSheet } from '../service/order-sheet.ts'

/** How the vehicle arrived, with the place to add to it, and what was photographed and recorded on each job. */
export function attachmentsOfOrder(ctx: Context, { order, standing }: OrderSheet): AttachmentSet[] {
  const arrival = attachmentsOf(ctx, { work_order_id: [order.id] }).get(order.id) ?? []
  const add = addAttachmentAddress('work_order_id', order.id, `/work-orders/${order.id}`)
  return [
    attachmentSet({ of: 'Arrival', heading: 'As it arrived', add }, arrival),
    ...attachmentsOnJobs(ctx, standing.plan.jobs).map(({ of, attachments }) =>
      attachmentSet({ of, heading: of }, attachments),
    ),
  ]
}

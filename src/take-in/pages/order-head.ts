import type { Context } from '../../platform/context.ts'
import { ref, words } from '../../platform/pages/words.ts'
import { customerById, vehicleById } from '../../vehicles/index.ts'
import { workOrderById } from '../../work-orders/index.ts'
import { subjectWords } from './pen.ts'

/** The head of a page of its own that belongs to a work order. 404 for an unknown order. */
export function orderHead(ctx: Context, orderId: string, title: string) {
  const order = workOrderById(ctx, orderId)
  return {
    title: `${title}: ${order.number}`,
    sheet_title: title,
    sheet_number: words('Order ', ref(order.number)),
    subject: subjectWords(vehicleById(ctx, order.vehicle_id), customerById(ctx, order.customer_id)),
    nav: 'work-orders' as const,
  }
}

import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { emptyAnswersAbout } from '../../platform/database/stored-answers.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { type CustomerErasure, eraseCustomerRecord } from '../../vehicles/index.ts'
import { emptyOrdersOfCustomer, handBackOf, workOrdersOfCustomer } from '../../work-orders/index.ts'

/**
 * Owner. Empties a person's own words everywhere: the customer, complaints, talks, who said yes. What was done on the
 * vehicles stays, and so does the chain. Backups made before still hold the words.
 *
 * Problems: not-found, role-not-allowed, customer-erased, customer-in-house.
 */
export function eraseCustomer(ctx: Context, customerId: string, reason: string): CustomerErasure {
  authorise(ctx)
  return write(ctx, tx => {
    const erasure = eraseCustomerRecord(ctx, tx, customerId, reason)
    const orders = workOrdersOfCustomer(ctx, customerId)
    const here = orders.find(order => handBackOf(ctx, order.id) === undefined)
    if (here !== undefined)
      throw problem('customer-in-house', {
        detail: `Work order ${here.number} of this customer has not been handed back.`,
      })
    emptyOrdersOfCustomer(ctx, tx, customerId)
    emptyAnswersAbout(tx, [customerId, ...orders.map(order => order.id)])
    recordEvent(ctx, tx, { action: 'customer.erased', table: 'customer_erasures', id: erasure.id })
    return erasure
  })
}

export { erasureOfCustomer } from '../../vehicles/index.ts'

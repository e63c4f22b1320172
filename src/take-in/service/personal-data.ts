import { adviceTellingsOf, findingsOnJobs } from '../../findings/index.ts'
import { handBackById } from '../../hand-back/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { customerById, vehiclesEverKeptBy } from '../../vehicles/index.ts'
import {
  authorisationsOfOrder,
  estimatesOfOrder,
  handBackOf,
  jobsOfOrder,
  talksOfOrder,
  workOrdersOfCustomer,
} from '../../work-orders/index.ts'
import type { PersonalData } from '../contract.ts'

/**
 * Desk. All that is written down of a customer, to be handed to them: what they keep and kept and when, their stays, what they
 * said, agreed and paid, what was found and of what they were told. 404 for an unknown customer.
 */
export function personalDataOf(ctx: Context, customerId: string): PersonalData {
  authorise(ctx, 'desk')
  return {
    customer: customerById(ctx, customerId),
    vehicles: vehiclesEverKeptBy(ctx, customerId).map(({ vehicle, ...time }) => {
      const { id, family, plate, vin, frame_number, engine_number } = vehicle
      return { vehicle_id: id, family, plate, vin, frame_number, engine_number, ...time }
    }),
    work_orders: workOrdersOfCustomer(ctx, customerId)
      .toReversed()
      .map(order => ({
        ...order,
        findings: findingsOnJobs(
          ctx,
          jobsOfOrder(ctx, order.id).map(job => job.id),
        ),
        advice_tellings: adviceTellingsOf(ctx, order.id),
        talks: talksOfOrder(ctx, order.id),
        estimates: estimatesOfOrder(ctx, order.id),
        authorisations: authorisationsOfOrder(ctx, order.id),
        ...(handBackOf(ctx, order.id) !== undefined && { hand_back: handBackById(ctx, order.id) }),
      })),
  }
}

import type { Context } from '../../platform/context.ts'
import { vehicleById } from '../../vehicles/index.ts'
import type { HistoryEvent } from '../contract.ts'
import { namedEvents } from '../queries.ts'

/** Everything that is known of a vehicle, imported and our own, oldest first; 404 when there is no such vehicle. */
export function lifeOfVehicle(ctx: Context, vehicleId: string): HistoryEvent[] {
  const vehicle = vehicleById(ctx, vehicleId)
  const called = vehicle.imported_as ?? vehicle.plate ?? vehicle.id
  return namedEvents(ctx.store, vehicleId).map(event => ({ vehicle: called, family: vehicle.family, ...event }))
}

import type { Context } from '../../platform/context.ts'
import { type Vehicle, vehicleById } from '../../vehicles/index.ts'
import type { HistoryEvent } from '../contract.ts'
import { namedEvents } from '../queries.ts'

/** The same by its id. 404 when there is none. */
export function historyOfVehicle(ctx: Context, vehicleId: string): HistoryEvent[] {
  return lifeOfVehicle(ctx, vehicleById(ctx, vehicleId))
}

/** Everything that is known of a vehicle, imported and our own, oldest first. */
export function lifeOfVehicle(ctx: Context, { id, imported_as, plate, family }: Vehicle): HistoryEvent[] {
  const of = { vehicle: imported_as ?? plate ?? id, family }
  return namedEvents(ctx.store, id).map(event => Object.assign(event, of))
}

import { type Api, apiRead } from '../platform/http/api-route.ts'
import { VehicleHistory } from './contract.ts'
import { historyOfVehicle } from './service/life-of-vehicle.ts'

export function historyApi(api: Api): void {
  apiRead(api, {
    url: '/vehicles/:id/history',
    summary: 'Tells the life of a vehicle in rows of the history format, oldest first.',
    answer: VehicleHistory,
    handle: (ctx, { params }) => ({ record: { events: historyOfVehicle(ctx, params.id) } }),
  })
}

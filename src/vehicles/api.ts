import { z } from 'zod'
import { vin } from '../core/vin.ts'
import { type Api, apiCompute, apiList, apiRead, apiWrite, pageOf } from '../platform/http/api-route.ts'
import { skipOf, versioned } from '../platform/http/outcomes.ts'
import { apiSmallCollection } from '../platform/http/small-collection.ts'
import {
  CheckVinInput,
  Customer,
  CustomerInput,
  CustomerPatch,
  Keeper,
  NamedRecord,
  OdometerReading,
  OdometerReadingInput,
  Vehicle,
  VehicleInput,
  VehiclePatch,
  VinFacts,
} from './contract.ts'
import { createCustomer, customerById, listCustomers, updateCustomer } from './service/customers.ts'
import { allFamilies, allVariants } from './service/names.ts'
import { odometerReadings, recordOdometer } from './service/odometer.ts'
import { createVehicle, keepersOfVehicle, listVehicles, updateVehicle, vehicleById } from './service/vehicles.ts'

const Looked = z.strictObject({
  q: z
    .string()
    .max(200)
    .optional()
    .meta({ description: 'What to look for; case, accents, spaces and dashes do not matter.' }),
})

export function vehiclesApi(api: Api): void {
  customersApi(api)
  vehicleRecordsApi(api)
  odometerApi(api)
  namesApi(api)
  apiCompute(api, {
    url: '/vehicles/check-vin',
    summary: 'Says what a VIN tells about itself: form, check digit, model years.',
    body: CheckVinInput,
    answer: VinFacts,
    handle: (_ctx, { body }) => vin(body.vin),
  })
}

function customersApi(api: Api): void {
  apiList(api, {
    url: '/customers',
    summary: 'Lists customers, newest first; q looks in names and telephone numbers.',
    query: Looked,
    item: Customer,
    handle: (ctx, { query, page }) =>
      pageOf(listCustomers(ctx, { ...query, limit: page.limit + 1, after: page.cursor }), page.limit, last => last.id),
  })
  apiRead(api, {
    url: '/customers/:id',
    summary: 'Reads a customer.',
    answer: Customer,
    handle: (ctx, { params }) => versioned(customerById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/customers',
    summary: 'Adds a customer.',
    roles: ['desk'],
    body: CustomerInput,
    answer: Customer,
    handle: (ctx, { body }) => versioned(createCustomer(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/customers/:id',
    summary: 'Changes a customer.',
    roles: ['desk'],
    body: CustomerPatch,
    answer: Customer,
    handle: (ctx, { params, body, version }) => versioned(updateCustomer(ctx, params.id, version, body)),
  })
}

function vehicleRecordsApi(api: Api): void {
  apiList(api, {
    url: '/vehicles',
    summary: 'The one box: finds vehicles by registration, VIN, frame or engine number, keeper’s name or telephone.',
    query: Looked,
    item: Vehicle,
    handle(ctx, { query, page }) {
      const skip = skipOf(page)
      const rows = listVehicles(ctx, query.q ?? '', page.limit + 1, skip)
      return pageOf(rows, page.limit, () => String(skip + page.limit))
    },
  })
  apiRead(api, {
    url: '/vehicles/:id',
    summary: 'Reads a vehicle.',
    answer: Vehicle,
    handle: (ctx, { params }) => versioned(vehicleById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/vehicles',
    summary: 'Adds a vehicle; an unknown family or variant is made.',
    roles: ['desk', 'technician'],
    body: VehicleInput,
    answer: Vehicle,
    handle: (ctx, { body }) => versioned(createVehicle(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/vehicles/:id',
    summary: 'Changes a vehicle; another keeper_id adds a dated change of keeper.',
    roles: ['desk', 'technician'],
    body: VehiclePatch,
    answer: Vehicle,
    handle: (ctx, { params, body, version }) => versioned(updateVehicle(ctx, params.id, version, body)),
  })
  apiSmallCollection(api, {
    url: '/vehicles/:id/keepers',
    summary: 'Lists the changes of keeper, newest first.',
    what: 'change of keeper',
    item: Keeper,
    all: (ctx, { id }) => keepersOfVehicle(ctx, id),
  })
}

function odometerApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/vehicles/:id/odometer-readings',
    summary: 'Lists the odometer readings, oldest day first.',
    what: 'odometer reading',
    item: OdometerReading,
    all: (ctx, { id }) => odometerReadings(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/vehicles/:id/odometer-readings',
    summary: 'Records an odometer reading; what is odd about it warns and refuses nothing.',
    roles: ['desk', 'technician'],
    body: OdometerReadingInput,
    answer: OdometerReading,
    handle: (ctx, { params, body }) => ({ record: recordOdometer(ctx, params.id, body) }),
  })
}

function namesApi(api: Api): void {
  apiSmallCollection(api, {
    url: '/families',
    summary: 'Lists the families, by name.',
    what: 'family',
    item: NamedRecord,
    all: ctx => allFamilies(ctx),
  })
  apiSmallCollection(api, {
    url: '/variants',
    summary: 'Lists the variants, by name.',
    what: 'variant',
    item: NamedRecord,
    all: ctx => allVariants(ctx),
  })
}

import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import {
  type Customer,
  type FoundVehicle,
  findVehicles,
  listCustomers,
  nearlyCustomers,
  nearlyVehicles,
} from '../../vehicles/index.ts'
import { ordersInHouse, type WorkOrderRecord, workOrderByNumber, workOrderOfInvoice } from '../../work-orders/index.ts'
import { type Stay, stayOf } from './in-house.ts'

/** Enough to choose from on one screen; whoever has more to choose from types more. */
const LIMIT = 20

/** An order whose vehicle has left: found by its own number, or by that of its invoice. */
export interface Left {
  order: WorkOrderRecord
  invoice: string | null
}

/** What the one box finds. Nothing stands in it twice. */
export interface Found {
  /** Stays of vehicles that are here. */
  stays: Stay[]
  /** Of that number, where the vehicle has left: orders and invoices are numbered each by themselves. */
  left: Left[]
  /** Vehicles that are not here. */
  vehicles: FoundVehicle[]
  /** Customers of none of these. */
  customers: Customer[]
  /** There may be more than these. */
  more: boolean
  /** Nothing is called so: these are but for one typing error. */
  nearly: boolean
}

/**
 * The one box: registration, VIN, frame or engine number, name, telephone, or the number of a work order or an invoice (this
 * year's by its last digits). A name finds what its customer has here, too.
 */
export function findInBox(ctx: Context, q: string): Found {
  const text = q.trim()
  if (text === '') return { stays: [], left: [], vehicles: [], customers: [], more: false, nearly: false }
  const number = wholeNumber(ctx, text)
  const numbered = workOrderByNumber(ctx, number)
  const invoiced = workOrderOfInvoice(ctx, number)
  const called = {
    vehicles: findVehicles(ctx, text, LIMIT),
    customers: listCustomers(ctx, { q: text, limit: LIMIT, after: null }),
  }
  const nearly = [numbered, invoiced, ...called.vehicles, ...called.customers].every(hit => hit === undefined)
  const { vehicles, customers } = nearly
    ? { vehicles: nearlyVehicles(ctx, text, LIMIT), customers: nearlyCustomers(ctx, text, LIMIT) }
    : called
  const vehicleIds = new Set(vehicles.map(vehicle => vehicle.id))
  const customerIds = new Set(customers.map(customer => customer.id))
  const here = ordersInHouse(ctx).filter(
    order => order.id === numbered?.id || vehicleIds.has(order.vehicle_id) || customerIds.has(order.customer_id),
  )
  const vehiclesHere = new Set(here.map(order => order.vehicle_id))
  const known = new Set([
    ...here.map(order => order.customer_id),
    ...vehicles.flatMap(vehicle => (vehicle.keeper === undefined ? [] : [vehicle.keeper.id])),
  ])
  return {
    stays: here.map(order => stayOf(ctx, order)),
    left: [
      ...(numbered === undefined || here.some(order => order.id === numbered.id)
        ? []
        : [{ order: numbered, invoice: null }]),
      ...(invoiced === undefined || invoiced.id === numbered?.id ? [] : [{ order: invoiced, invoice: number }]),
    ],
    vehicles: vehicles.filter(vehicle => !vehiclesHere.has(vehicle.id)),
    customers: customers.filter(customer => !known.has(customer.id)),
    more: vehicles.length === LIMIT || customers.length === LIMIT,
    nearly,
  }
}

/** "231" is this year's 0231. */
function wholeNumber(ctx: Context, text: string): string {
  if (!/^\d{1,4}$/.test(text)) return text
  const year = localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone).slice(0, 4)
  return `${year}-${text.padStart(4, '0')}`
}

/** The only thing found, if it is one. */
export function onlyOne(
  found: Found,
): { stay: Stay } | { left: Left } | { vehicle: FoundVehicle } | { customer: Customer } | null {
  const { stays, left, vehicles, customers } = found
  const hits = [
    ...stays.map(stay => ({ stay })),
    ...left.map(each => ({ left: each })),
    ...vehicles.map(vehicle => ({ vehicle })),
    ...customers.map(customer => ({ customer })),
  ]
  const [only] = hits
  return hits.length === 1 && only !== undefined ? only : null
}

import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { fromSi, toSi } from '../../core/quantities.ts'
import { roughDate } from '../../core/rough-date.ts'
import type { OdometerUnit } from '../../core/vocabulary.ts'
import { notePriorWork, type PriorWork } from '../../findings/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known } from '../../platform/problems.ts'
import { eachTogether, together } from '../../platform/together.ts'
import { withoutNulls } from '../../platform/wire.ts'
import {
  type Customer,
  createCustomer,
  createVehicle,
  customersCalled,
  type FoundVehicle,
  recordOdometer,
  updateVehicle,
  type Vehicle,
  vehicleById,
  vehiclesOfNumbers,
} from '../../vehicles/index.ts'
import {
  openWorkOrder,
  ordersInHouseOf,
  updateWorkOrder,
  type WorkOrderRecord,
  workOrderById,
} from '../../work-orders/index.ts'
import type { NewcomerForm, PriorWorkForm, StayForm, TakeInForm } from '../contract.ts'

/**
 * Desk. Takes a vehicle in: the stay, a customer who is new, whose it is from now on, and what others did to it, in one
 * write. 422 for a second stay that nobody confirmed, nobody who brings it, and a date that is none.
 */
export function takeIn(ctx: Context, form: TakeInForm): WorkOrderRecord {
  authorise(ctx, 'desk')
  return write(ctx, () => {
    const vehicle = known('/vehicle_id', () => vehicleById(ctx, form.vehicle_id))
    together({
      stay: () => refuseSecondStay(ctx, vehicle, form),
      odometer: () => refuseUnread(form),
      who: () => refuseNobody(form),
      works: () => eachTogether(form.prior_works ?? [], ({ when }, place) => roughly(when, `/prior_works/${place}`)),
    })
    const customer_id = form.customer === undefined ? form.customer_id : createCustomer(ctx, form.customer).id
    if (customer_id === undefined) throw new RangeError('takeIn has refused a form that names nobody')
    const { complaint, symptoms = [], odometer, promised_on, arrived, arrival_note, place } = form
    const order = openWorkOrder(ctx, {
      ...{ vehicle_id: vehicle.id, customer_id, complaint, symptoms, arrived },
      ...(odometer !== undefined && { odometer_km: toSi(odometer, vehicle.odometer_unit) }),
      ...(promised_on !== undefined && { promised_on }),
      ...(arrival_note !== undefined && { arrival_note }),
      ...(place !== undefined && { place }),
      ...arrivalOf(form),
    })
    if (form.keeps_it === true && vehicle.keeper_id !== customer_id) {
      updateVehicle(ctx, vehicle.id, vehicle.version, { keeper_id: customer_id })
    }
    for (const [place, work] of (form.prior_works ?? []).entries()) {
      noteOthersWork(ctx, vehicle.id, { ...work, by: work.by ?? 'unknown' }, `/prior_works/${place}`)
    }
    return order
  })
}

function arrivalOf({ damage, fuel, belongings, keys, old_parts, odometer_unread }: TakeInForm) {
  return withoutNulls({ damage, fuel, belongings, keys, old_parts, odometer_unread })
}

/** Without a reading nobody can tell how far it has gone since; so whoever leaves it out says why. */
function refuseUnread({ odometer, odometer_unread }: TakeInForm): void {
  if (odometer !== undefined || odometer_unread !== undefined) return
  const detail = 'Write what the odometer shows, or why it was not read.'
  throw invalid({ pointer: '/odometer', detail, code: 'missing' })
}

function refuseSecondStay(ctx: Context, vehicle: Vehicle, { second_stay }: TakeInForm): void {
  const [open] = ordersInHouseOf(ctx, vehicle.id)
  if (open === undefined || second_stay === true) return
  const detail = `This vehicle is here already, on work order ${open.number}. Write it there, or tick that this is a second stay.`
  throw invalid({ pointer: '/second_stay', detail, code: 'here_already' })
}

function refuseNobody({ customer_id, customer }: TakeInForm): void {
  if (customer !== undefined && customer_id !== undefined) {
    const detail = 'Choose somebody who is known, or write who is new, not both.'
    throw invalid({ pointer: '/customer_id', detail, code: 'both' })
  }
  if (customer !== undefined || customer_id !== undefined) return
  throw invalid({ pointer: '/customer/name', detail: 'Say who brings it.', code: 'missing' })
}

/** Desk or technician. Prior work as the desk writes it: a day, a month, a year, or nothing where nobody knows. */
export function noteOthersWork(ctx: Context, vehicleId: string, form: PriorWorkForm, pointer = ''): PriorWork {
  const { when, operation, by, evidence } = form
  const work = { operation, by, ...roughly(when, pointer), ...(evidence !== undefined && { evidence }) }
  return notePriorWork(ctx, vehicleId, work, `${pointer}/when`)
}

function roughly(when: string | undefined, pointer: string) {
  const rough = when === undefined ? { exactness: 'unknown' as const } : roughDate(when)
  if (rough !== null) return rough
  const detail =
    'Write a day, a month or a year: 2029-02-12, February 2029, 02/2029 or 2029. Leave it out when nobody knows.'
  throw invalid({ pointer: `${pointer}/when`, detail, code: 'not_a_date' })
}

/**
 * Desk. A vehicle that is new here, with whoever brings it as its keeper. 422 for a number, name or telephone that is in the
 * book already, unless somebody has said that it is another: two of one vehicle would share its history between them.
 */
export function addNewcomer(ctx: Context, form: NewcomerForm): Vehicle {
  authorise(ctx, 'desk')
  const { customer, customer_id, another_vehicle, another_person, ...vehicle } = form
  return write(ctx, () => {
    const here = alreadyHere(ctx, form)
    together({
      vehicle: () => another_vehicle !== true && refuseKnown('/another_vehicle', here.vehicles.map(titleOfFound)),
      person: () => another_person !== true && refuseKnown('/another_person', here.customers.map(titleOfCustomer)),
    })
    const keeper = customer === undefined ? customer_id : createCustomer(ctx, customer).id
    return createVehicle(ctx, { ...vehicle, ...(keeper !== undefined && { keeper_id: keeper }) })
  })
}

/** Who and what of a form for newcomers is in the book already. */
export function alreadyHere(
  ctx: Context,
  { plate, vin, frame_number, customer }: Partial<NewcomerForm>,
): { vehicles: FoundVehicle[]; customers: Customer[] } {
  return {
    vehicles: vehiclesOfNumbers(ctx, { plate, vin, frame_number }),
    customers: customer?.name === undefined ? [] : customersCalled(ctx, customer),
  }
}

function titleOfFound({ title, family, keeper }: FoundVehicle): string {
  return `${title}, ${family}${keeper === undefined ? '' : `, kept by ${keeper.name}`}`
}

function titleOfCustomer({ name, phone }: Customer): string {
  return phone === undefined ? name : `${name}, ${phone}`
}

function refuseKnown(pointer: string, known: string[]): void {
  if (known.length === 0) return
  const detail = `In the book already: ${known.join('; ')}. Go on with that, as shown above the form, or tick that it is another.`
  throw invalid({ pointer, detail, code: 'here_already' })
}

/** Desk. Puts a stay right; `version` is the one that the person read. */
export function editStay(ctx: Context, orderId: string, version: number, form: StayForm): WorkOrderRecord {
  const order = workOrderById(ctx, orderId)
  const { odometer_unit } = vehicleById(ctx, order.vehicle_id)
  const { symptoms = [], odometer, promised_on = null, arrival_note = null, place = null, complaint, arrived } = form
  const { damage = null, fuel = null, belongings = null, keys = null, old_parts = null, odometer_unread = null } = form
  // what was shown rounded and came back untouched is no new reading
  const isUntouched = odometer !== undefined && odometer === shownOdometer(order.odometer_km, odometer_unit)
  const typed = odometer === undefined ? null : toSi(odometer, odometer_unit)
  const odometer_km = isUntouched ? (order.odometer_km ?? null) : typed
  return updateWorkOrder(ctx, orderId, version, {
    ...{ complaint, arrived, symptoms, odometer_km, promised_on, arrival_note, place },
    ...{ damage, fuel, belongings, keys, old_parts, odometer_unread },
  })
}

/** Kilometres as the odometer shows them: whole numbers of its unit. */
export function shownOdometer(km: number | undefined, unit: OdometerUnit): number | undefined {
  return km === undefined ? undefined : Math.round(fromSi(km, unit))
}

/** Desk or technician. A reading in the unit that the odometer shows. */
export function readOdometer(
  ctx: Context,
  vehicleId: string,
  { on, odometer, display_replaced = false }: { on: string; odometer: number; display_replaced?: boolean | undefined },
) {
  const { odometer_unit } = vehicleById(ctx, vehicleId)
  const today = localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
  if (on > today) {
    throw invalid({ pointer: '/on', detail: 'That day has not come yet.', code: 'in_the_future' })
  }
  return recordOdometer(ctx, vehicleId, { on, distance_km: toSi(odometer, odometer_unit), display_replaced })
}

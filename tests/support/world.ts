import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
import type { TestApp } from './app.ts'

/** The people of the workshop, as they sign. */
export const PEOPLE = {
  desk: 'Ilse Marrok',
  technician: 'Ann Tolley',
  owner: 'Jory Pennard',
} as const

/** A customer with a van, entered at the desk: what most stories begin with. */
export function customerWithVan(t: TestApp) {
  const desk = t.as('desk')
  const customer = createCustomer(desk, { name: 'Osk Brandl', phone: '0555 014 771' })
  const vehicle = createVehicle(desk, {
    family: 'Corvane Tern',
    plate: 'QH 418 TK',
    odometer_unit: 'km',
    keeper_id: customer.id,
  })
  return { customer, vehicle }
}

/** Cookie headers of the three, each with a session of their own. */
export function signedIn(t: TestApp): Record<keyof typeof PEOPLE, string> {
  return {
    desk: t.cookie('desk', PEOPLE.desk),
    technician: t.cookie('technician', PEOPLE.technician),
    owner: t.cookie('owner', PEOPLE.owner),
  }
}

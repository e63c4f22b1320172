import type { Context } from '../../platform/context.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { type Found, findInBox, onlyOne } from '../service/find.ts'
import { type FoundView, foundView, type Leads } from './found.ts'
import type { Pen } from './pen.ts'

/** What the one box answers: the only match is opened, several are listed, and with none there is a way to add it. */
export type Searched = { to: string } | { found: FoundView | null; add: Action | null }

export const TO_PAGES: Leads = {
  order: order => `/work-orders/${order.id}`,
  vehicle: id => `/vehicles/${id}`,
  customer: id => `/customers/${id}`,
}

/** The same on every page with the box. */
export function searched(ctx: Context, q: string, pen: Pen, leads: Leads): Searched {
  if (q.trim() === '') return { found: null, add: null }
  const found = findInBox(ctx, q)
  const only = whereTo(found, leads)
  if (only !== null) return { to: only }
  const view = foundView(found, q, pen, leads)
  return { found: view, add: view.nothing === null ? null : addIt(q.trim(), ctx.actor?.role !== 'technician') }
}

function whereTo(found: Found, leads: Leads): string | null {
  const only = onlyOne(found)
  if (only === null) return null
  if ('stay' in only) return leads.order(only.stay.order)
  if ('left' in only) return leads.order(only.left.order)
  return 'vehicle' in only ? leads.vehicle(only.vehicle.id) : leads.customer(only.customer.id)
}

/** What was looked for is filled in again where it most likely belongs. */
function addIt(q: string, isDesk: boolean): Action {
  const typed = new URLSearchParams(asField(q))
  return isDesk
    ? { kind: 'button', main: true, label: 'Add vehicle and customer', href: `/take-in/new?${typed}` }
    : { kind: 'button', main: true, label: 'Add the vehicle', href: `/vehicles/new?${typed}` }
}

/** Seventeen places are a VIN, figures alone a telephone number, without a figure it is a name, else a registration. */
function asField(q: string): Record<string, string> {
  if (/^[A-Za-z0-9]{17}$/.test(q)) return { vin: q }
  if (/^[+(]?\d[\d\s()/-]{5,}$/.test(q)) return { phone: q }
  return /\d/.test(q) ? { plate: q } : { name: q }
}

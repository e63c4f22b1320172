import type { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { type Choice, mayBeLeftOut } from '../../platform/pages/field.ts'
import { column, table } from '../../platform/pages/table.ts'
import { invalid } from '../../platform/problems.ts'
import { KeeperForm } from '../contract.ts'
import { createCustomer, customerById, customersByIds, listCustomers } from '../service/customers.ts'
import { keepersOfVehicle, updateVehicle, vehicleById } from '../service/vehicles.ts'

const NOBODY = 'nobody'
const CHOICES = 12

/** Whose the vehicle is now: somebody who is found by name or telephone, somebody new, or nobody known. */
export function keeperPage(pages: Pages): void {
  pageForm(pages, {
    url: '/vehicles/:id/keeper',
    roles: ['desk'],
    contract: KeeperForm,
    initial: (ctx, { params }) => ({ version: vehicleById(ctx, params.id).version }),
    page(ctx, { params, query, form }) {
      const vehicle = vehicleById(ctx, params.id)
      const q = typeof query.q === 'string' ? query.q.slice(0, 200) : ''
      return {
        template: 'vehicles/keeper',
        sheet: { title: `Keeper of ${vehicle.plate ?? vehicle.family}`, nav: 'vehicles', subject: vehicle.family },
        view: {
          q,
          fields: form.fields({ choices: { keeper: choices(ctx, q, form.typed.keeper) } }),
          customer: mayBeLeftOut(form.fields({ at: ['customer'] })),
          before: keepersTable(ctx, vehicle.id),
          address: `/vehicles/${vehicle.id}`,
        },
      }
    },
    submit(ctx, input, { params, version }) {
      const keeper_id = keeperChosen(ctx, input)
      updateVehicle(ctx, params.id, version, { keeper_id })
      const now =
        keeper_id === null ? 'Nobody is known as its keeper now.' : `${customerById(ctx, keeper_id).name} keeps it now.`
      return { to: `/vehicles/${params.id}`, notice: now }
    },
  })
}

function keeperChosen(ctx: Context, { keeper, customer }: z.infer<typeof KeeperForm>): string | null {
  if (keeper === undefined && customer === undefined) {
    throw invalid({ pointer: '/keeper', detail: 'Choose somebody, or write who it is.', code: 'missing' })
  }
  if (keeper !== undefined && customer !== undefined) {
    throw invalid({ pointer: '/keeper', detail: 'Choose somebody or write somebody new, not both.', code: 'both' })
  }
  if (customer !== undefined) return createCustomer(ctx, customer).id
  return keeper === NOBODY || keeper === undefined ? null : keeper
}

function choices(ctx: Context, q: string, typed: string | string[] | undefined): Choice[] {
  const found = listCustomers(ctx, { q, limit: CHOICES, after: null })
  const chosen = typeof typed === 'string' && typed !== NOBODY && found.every(({ id }) => id !== typed) ? [typed] : []
  const known = [...found, ...customersByIds(ctx, chosen)]
  const people = known.map(({ id, name, phone }) => ({
    value: id,
    label: name,
    ...(phone !== undefined && { hint: phone }),
  }))
  return [...people, { value: NOBODY, label: 'Nobody known' }]
}

function keepersTable(ctx: Context, vehicleId: string) {
  const { time_zone } = settingsOf(ctx)
  return table({
    columns: [column('Since', 'date'), column('Keeper')],
    rows: keepersOfVehicle(ctx, vehicleId).map(({ created_at, customer_id }) => ({
      cells: [
        shortDay(localDateOf(Date.parse(created_at), time_zone)),
        customer_id === undefined ? 'nobody known' : customerById(ctx, customer_id).name,
      ],
    })),
    empty: 'Nobody has been its keeper yet.',
  })
}

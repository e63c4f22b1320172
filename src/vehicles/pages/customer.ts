import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { link, small, type Words, words } from '../../platform/pages/words.ts'
import { type Customer, CustomerInput } from '../contract.ts'
import { customerById, updateCustomer } from '../service/customers.ts'
import { vehiclesKeptBy } from '../service/vehicles.ts'
import { phoneCell, vehiclesTable } from './vehicles-table.ts'

/** A customer with what is theirs, and the form to put them right. */
export function customerPages(pages: Pages): void {
  pageRead(pages, {
    url: '/customers/:id',
    handle(ctx, { params }) {
      const customer = customerById(ctx, params.id)
      const vehicles = vehiclesKeptBy(ctx, customer.id)
      return {
        template: 'vehicles/customer',
        sheet: { title: customer.name, nav: 'vehicles', sheet_number: words(small('customer')) },
        view: {
          facts: facts(customer),
          note: customer.note ?? null,
          vehicles: vehicles.length === 0 ? null : vehiclesTable(vehicles),
          edit: ctx.actor?.role === 'technician' ? null : `/customers/${customer.id}/edit`,
          data: ctx.actor?.role === 'technician' ? null : `/api/customers/${customer.id}/personal-data`,
          add: `/vehicles/new?keeper_id=${customer.id}`,
        },
      }
    },
  })

  pageForm(pages, {
    url: '/customers/:id/edit',
    roles: ['desk'],
    contract: CustomerInput,
    initial(ctx, { params }) {
      const { version, ...customer } = customerById(ctx, params.id)
      return { values: customer, version }
    },
    page: (ctx, { params, form }) => ({
      template: 'vehicles/customer-edit',
      sheet: { title: `Put right: ${customerById(ctx, params.id).name}`, nav: 'vehicles' },
      view: { fields: form.fields(), address: `/customers/${params.id}` },
    }),
    submit(ctx, input, { params, version }) {
      updateCustomer(ctx, params.id, version, patchFromForm(CustomerInput, input))
      return { to: `/customers/${params.id}`, notice: 'Put right.' }
    },
  })
}

function facts({ phone, email, address }: Customer): { label: string; value: Words }[] {
  return [
    { label: 'Telephone', value: phoneCell(phone) as Words },
    { label: 'E-mail', value: email === undefined ? '–' : words(link(`mailto:${email}`, email)) },
    { label: 'Address', value: address ?? '–' },
  ]
}

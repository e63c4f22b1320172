import type { z } from 'zod'
import type { Context } from '../../platform/context.ts'
import { askAboutNewNames } from '../../platform/forms/new-names.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { mayBeLeftOut } from '../../platform/pages/field.ts'
import { small, words } from '../../platform/pages/words.ts'
import { problem } from '../../platform/problems.ts'
import { NewVehicleForm, type Vehicle, VehicleForm } from '../contract.ts'
import { customerById } from '../service/customers.ts'
import { allFamilies, allVariants } from '../service/names.ts'
import { createVehicle, createVehicleWithKeeper, updateVehicle, vehicleById } from '../service/vehicles.ts'

/** A vehicle with its keeper in one form, and the form to put a vehicle right. */
export function vehicleForms(pages: Pages): void {
  pageForm(pages, {
    url: '/vehicles/new',
    roles: ['desk', 'technician'],
    contract: NewVehicleForm,
    initial: (_ctx, { query }) => ({
      values: { odometer_unit: 'km', plate: query.plate, vin: query.vin, keeper_id: query.keeper_id },
    }),
    page: (ctx, { form }) => ({
      template: 'vehicles/new',
      sheet: { title: 'Add a vehicle', nav: 'vehicles', sheet_number: words(small('not in the book yet')) },
      view: {
        fields: form.fields(),
        customer: mayBeLeftOut(form.fields({ at: ['customer'] })),
        keeper: knownKeeper(ctx, form),
        may_add_customer: ctx.actor?.role !== 'technician',
        names: namesToChoose(ctx),
      },
    }),
    submit(ctx, { customer, ...input }, { new_names }) {
      askAboutNames(ctx, new_names, input)
      if (customer !== undefined && input.keeper_id !== undefined) {
        throw problem('invalid-input', { detail: 'Keep the customer who is chosen, or write a new one, not both.' })
      }
      const made = customer === undefined ? createVehicle(ctx, input) : createVehicleWithKeeper(ctx, input, customer)
      return { to: `/vehicles/${made.id}`, notice: notice('Added.', made) }
    },
  })

  pageForm(pages, {
    url: '/vehicles/:id/edit',
    roles: ['desk', 'technician'],
    contract: VehicleForm,
    initial(ctx, { params }) {
      const { version, ...vehicle } = vehicleById(ctx, params.id)
      return { values: vehicle, version }
    },
    page(ctx, { params, form }) {
      const vehicle = vehicleById(ctx, params.id)
      return {
        template: 'vehicles/edit',
        sheet: { title: `Put right: ${vehicle.plate ?? vehicle.family}`, nav: 'vehicles', subject: vehicle.family },
        view: {
          fields: form.fields(),
          keeper: vehicle.keeper_id === undefined ? null : customerById(ctx, vehicle.keeper_id).name,
          address: `/vehicles/${vehicle.id}`,
          names: namesToChoose(ctx),
        },
      }
    },
    submit(ctx, input, { params, version, new_names }) {
      askAboutNames(ctx, new_names, input)
      const changed = updateVehicle(ctx, params.id, version, patchFromForm(VehicleForm, input))
      return { to: `/vehicles/${params.id}`, notice: notice('Put right.', changed) }
    },
  })
}

function askAboutNames(ctx: Context, calledNew: ReadonlySet<string>, { family, variant }: z.infer<typeof VehicleForm>) {
  askAboutNewNames(calledNew, [
    { pointer: '/family', what: 'family', name: family, known: allFamilies(ctx) },
    { pointer: '/variant', what: 'variant', name: variant, known: allVariants(ctx) },
  ])
}

function knownKeeper(ctx: Context, form: FormState): { id: string; name: string } | null {
  const id = form.typed.keeper_id
  if (typeof id !== 'string' || id === '') return null
  const { name } = customerById(ctx, id)
  return { id, name }
}

function namesToChoose(ctx: Context): { families: string[]; variants: string[] } {
  return { families: allFamilies(ctx).map(({ name }) => name), variants: allVariants(ctx).map(({ name }) => name) }
}

/** What is odd is said once, where it can still be put right. */
function notice(done: string, { warnings }: Vehicle): string {
  return [done, ...warnings.map(({ detail }) => detail)].join(' ')
}

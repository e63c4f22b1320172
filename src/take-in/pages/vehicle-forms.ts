import { settingsOf } from '../../accounts/index.ts'
import { allOperations } from '../../catalogue/index.ts'
import { leaveForLater } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { askAboutNewNames } from '../../platform/forms/new-names.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { vehicleById } from '../../vehicles/index.ts'
import { LeftForLaterForm, OdometerForm, PriorWorkForm } from '../contract.ts'
import { noteOthersWork, readOdometer } from '../service/take-in.ts'
import { familyWords, penOf, titleOf } from './pen.ts'
import { odometerField } from './take-in-form.ts'

/** What the desk or the bench adds to a vehicle's life. */
export function vehicleFormPages(pages: Pages): void {
  pageForm(pages, {
    url: '/vehicles/:id/odometer',
    roles: ['desk', 'technician'],
    contract: OdometerForm,
    initial: ctx => ({ values: { on: penOf(settingsOf(ctx)).dayOf(ctx.clock.now()) } }),
    page(ctx, { params, form }) {
      const { on, odometer, display_replaced } = form.fields()
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Odometer reading'),
        view: {
          says: null,
          fields: [on, odometerField(ctx, vehicleById(ctx, params.id), odometer), display_replaced],
          lists: [],
          ...places(params.id, 'odometer', 'Write it down'),
        },
      }
    },
    submit(ctx, input, { params }) {
      const { warnings } = readOdometer(ctx, params.id, input)
      const odd = warnings.map(warning => warning.detail)
      return { to: `/vehicles/${params.id}`, notice: ['Written down.', ...odd].join(' ') }
    },
  })

  pageForm(pages, {
    url: '/vehicles/:id/prior-work',
    roles: ['desk', 'technician'],
    contract: PriorWorkForm,
    page(ctx, { params, form }) {
      const { operation, by, when, evidence } = form.fields()
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Work by others'),
        view: {
          says: 'It is what later trouble is counted against, and nobody is blamed for it here. Leave the date out when nobody knows it.',
          fields: [{ ...operation, list: 'operations' }, by, when, evidence],
          lists: [{ id: 'operations', names: allOperations(ctx).map(({ name }) => name) }],
          ...places(params.id, 'prior-work', 'Note it'),
        },
      }
    },
    submit(ctx, input, { params, new_names }) {
      const known = allOperations(ctx)
      askAboutNewNames(new_names, [{ pointer: '/operation', what: 'operation', name: input.operation, known }])
      noteOthersWork(ctx, params.id, input)
      return { to: `/vehicles/${params.id}`, notice: 'Noted.' }
    },
  })

  pageForm(pages, {
    url: '/vehicles/:id/left-for-later',
    roles: ['desk', 'technician'],
    contract: LeftForLaterForm,
    page(ctx, { params, form }) {
      const { text, amount_minor } = form.fields()
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Left for later'),
        view: {
          says: 'Work that was advised and that the customer does not want now. It is said again when the vehicle comes in next.',
          fields: [text, amount_minor],
          lists: [],
          ...places(params.id, 'left-for-later', 'Leave it for later'),
        },
      }
    },
    submit(ctx, input, { params }) {
      leaveForLater(ctx, { vehicle_id: params.id, ...input })
      return { to: `/vehicles/${params.id}`, notice: 'Left for later.' }
    },
  })
}

function sheetOf(ctx: Context, vehicleId: string, title: string) {
  const vehicle = vehicleById(ctx, vehicleId)
  return {
    title: `${title}: ${titleOf(vehicle)}`,
    sheet_title: title,
    sheet_number: titleOf(vehicle),
    subject: familyWords(vehicle),
    nav: 'vehicles' as const,
  }
}

function places(vehicleId: string, form: string, label: string) {
  return { action: `/vehicles/${vehicleId}/${form}`, label, back: `/vehicles/${vehicleId}` }
}

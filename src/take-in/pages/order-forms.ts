import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { allSymptoms } from '../../catalogue/index.ts'
import { voidJobSafely } from '../../hand-back/index.ts'
import type { Context } from '../../platform/context.ts'
import { Id } from '../../platform/contract.ts'
import { askAboutNewNames } from '../../platform/forms/new-names.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { notFound } from '../../platform/problems.ts'
import { vehicleById } from '../../vehicles/index.ts'
import { AuthorisationWithdrawalInput, VoidingInput } from '../../work-orders/contract.ts'
import { authorisationsOfOrder, withdrawAuthorisation, workOrderById } from '../../work-orders/index.ts'
import { StayForm } from '../contract.ts'
import { editStay, shownOdometer } from '../service/take-in.ts'
import { jobChoices, requireJobOf } from './jobs-of-order.ts'
import { orderHead } from './order-head.ts'
import { penOf } from './pen.ts'
import { symptomFields, symptomsTyped } from './symptom-fields.ts'

const VoidingForm = z.strictObject({ job_id: Id.meta({ title: 'Job' }), ...VoidingInput.shape })

/** Forms of a work order that stand on a page of their own. */
export function orderFormPages(pages: Pages): void {
  editPage(pages)
  voidingPage(pages)
  withdrawalPage(pages)
}

function editPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/edit',
    roles: ['desk'],
    contract: StayForm,
    initial(ctx, { params }) {
      const { version, odometer_km, ...order } = workOrderById(ctx, params.id)
      const { odometer_unit } = vehicleById(ctx, order.vehicle_id)
      return { values: { ...order, odometer: shownOdometer(odometer_km, odometer_unit) }, version }
    },
    page(ctx, { params, form }) {
      const { vehicle_id } = workOrderById(ctx, params.id)
      const { odometer_unit } = vehicleById(ctx, vehicle_id)
      const { complaint, odometer, promised_on, arrived, arrival_note, place, symptoms: _, ...arrival } = form.fields()
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, params.id, 'Put the order right'),
        view: {
          says: null,
          fields: [
            complaint,
            ...symptomFields(form),
            { ...odometer, unit: odometer_unit },
            promised_on,
            arrived,
            arrival_note,
            place,
            ...Object.values(arrival),
          ],
          lists: [{ id: 'symptom-names', names: allSymptoms(ctx).map(({ name }) => name) }],
          action: `/work-orders/${params.id}/edit`,
          label: 'Put it right',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params, version, new_names }) {
      askAboutNewNames(new_names, symptomsTyped(ctx, input))
      editStay(ctx, params.id, version, input)
      return { to: `/work-orders/${params.id}`, notice: 'Put right.' }
    },
  })
}

function voidingPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/voiding',
    roles: ['desk'],
    contract: VoidingForm,
    page(ctx, { params, form }) {
      const { job_id, reason } = form.fields({ choices: { job_id: jobChoices(ctx, params.id) } })
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, params.id, 'Take a job off'),
        view: {
          says: 'What was recorded on it stays, and a tool that it put in must still come out.',
          fields: [job_id, reason],
          lists: [],
          action: `/work-orders/${params.id}/voiding`,
          label: 'Take it off',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, { job_id, reason }, { params }) {
      const { letter, task } = requireJobOf(ctx, params.id, job_id)
      voidJobSafely(ctx, job_id, { reason })
      return { to: `/work-orders/${params.id}#jobs`, notice: `Taken off: ${letter} ${task}.` }
    },
  })
}

function withdrawalPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/authorisations/:authorisation_id/withdrawal',
    roles: ['desk'],
    contract: AuthorisationWithdrawalInput,
    page: (ctx, { params, form }) => ({
      template: 'take-in/small-form',
      sheet: orderHead(ctx, params.id, 'A yes that does not hold'),
      view: {
        says: `${yesWords(ctx, params.id, params.authorisation_id)} It stays on the order, struck through, and counts no more. Write down what the customer does say as a yes of its own.`,
        fields: Object.values(form.fields()),
        lists: [],
        action: `/work-orders/${params.id}/authorisations/${params.authorisation_id}/withdrawal`,
        label: 'It does not hold',
        back: `/work-orders/${params.id}`,
      },
    }),
    submit(ctx, { reason }, { params }) {
      withdrawAuthorisation(ctx, params.id, params.authorisation_id, reason)
      return { to: `/work-orders/${params.id}#yes`, notice: 'Struck through: it counts no more.' }
    },
  })
}

/** "Bodil Farrow said yes to €650.00 on 3 Mar 2031, 08:00." 404 when the order has no such yes. */
function yesWords(ctx: Context, orderId: string, id: string): string {
  const yes = authorisationsOfOrder(ctx, orderId).find(each => each.id === id)
  if (yes === undefined) throw notFound('authorisation', id)
  const pen = penOf(settingsOf(ctx))
  return `${yes.said_by} said yes to ${pen.money(yes.amount_minor)} on ${pen.moment(Date.parse(yes.at))}.`
}

import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { allSymptoms } from '../../catalogue/index.ts'
import { voidJobSafely } from '../../hand-back/index.ts'
import { allParts, allSuppliers } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import { Id } from '../../platform/contract.ts'
import { askAboutNewNames } from '../../platform/forms/new-names.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { vehicleById } from '../../vehicles/index.ts'
import {
  AuthorisationWithdrawalInput,
  PartLineInput,
  PartLineRemovalInput,
  VoidingInput,
} from '../../work-orders/contract.ts'
import {
  addPartLine,
  authorisationsOfOrder,
  planOfOrder,
  removePartLine,
  withdrawAuthorisation,
  workOrderById,
} from '../../work-orders/index.ts'
import { StayForm } from '../contract.ts'
import { editStay, shownOdometer } from '../service/take-in.ts'
import { orderHead } from './order-head.ts'
import { partAnswers } from './part-answers.ts'
import { penOf } from './pen.ts'
import { symptomFields, symptomsTyped } from './symptom-fields.ts'

const PartForm = z.strictObject({ job_id: Id.meta({ title: 'On job' }), ...PartLineInput.shape })
const PartOffForm = z.strictObject({ line_id: Id.meta({ title: 'Part' }), ...PartLineRemovalInput.shape })
const VoidingForm = z.strictObject({ job_id: Id.meta({ title: 'Job' }), ...VoidingInput.shape })

/** Forms of a work order that stand on a page of their own. */
export function orderFormPages(pages: Pages): void {
  editPage(pages)
  partLinePage(pages)
  partOffPage(pages)
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

function partLinePage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/part-lines',
    roles: ['desk', 'technician'],
    contract: PartForm,
    initial: (_ctx, { query }) => ({ values: { quantity: 1, condition: 'new', job_id: query.job } }),
    page(ctx, { params, form }) {
      const jobs = standingJobs(ctx, params.id)
      const joints = jobs.flatMap(job =>
        job.joints.map((joint): Choice => ({ value: joint.id, label: `${job.letter} ${joint.name}` })),
      )
      const { job_id, part_id, quantity, condition, price_minor, cost_minor, supplier_id, batch, joint_id } =
        form.fields({
          choices: {
            job_id: jobChoices(ctx, params.id),
            part_id: allParts(ctx).map(({ id, number, name }): Choice => ({ value: id, label: `${number} ${name}` })),
            supplier_id: allSuppliers(ctx).map(({ id, name }): Choice => ({ value: id, label: name })),
            joint_id: joints,
          },
        })
      const fields = [job_id, part_id, quantity, condition, price_minor, cost_minor, supplier_id, batch]
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, params.id, 'Add a part'),
        view: {
          says:
            jobs.length === 0
              ? 'A part hangs on a job: add the job first.'
              : 'A part that the catalogue lacks is added there first.',
          answers: partAnswers(ctx, jobs),
          fields: joints.length === 0 ? fields : [...fields, joint_id],
          lists: [],
          action: `/work-orders/${params.id}/part-lines`,
          label: 'Add the part',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, { job_id, ...input }, { params }) {
      requireJobOf(ctx, params.id, job_id)
      const line = addPartLine(ctx, job_id, input)
      return { to: `/work-orders/${params.id}#jobs`, notice: `Added: ${line.part_number} ${line.part_name}.` }
    },
  })
}

function partOffPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/part-line-removals',
    roles: ['desk', 'technician'],
    contract: PartOffForm,
    initial: (_ctx, { query }) => ({ values: { line_id: query.line } }),
    page(ctx, { params, form }) {
      const { line_id, reason } = form.fields({ choices: { line_id: partLineChoices(ctx, params.id) } })
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, params.id, 'Take a part off'),
        view: {
          says: 'It stays on the order, struck through, and is not charged. A joint that it was issued to counts as unsigned until others are noted on it.',
          fields: [line_id, reason],
          lists: [],
          action: `/work-orders/${params.id}/part-line-removals`,
          label: 'Take it off',
          back: `/work-orders/${params.id}#jobs`,
        },
      }
    },
    submit(ctx, { line_id, reason }, { params }) {
      const { job_id } = requireLineOf(ctx, params.id, line_id)
      const { part_number, part_name } = removePartLine(ctx, job_id, line_id, reason)
      return { to: `/work-orders/${params.id}#jobs`, notice: `Taken off: ${part_number} ${part_name}.` }
    },
  })
}

function partLineChoices(ctx: Context, orderId: string): Choice[] {
  const pen = penOf(settingsOf(ctx))
  return standingJobs(ctx, orderId).flatMap(job =>
    job.part_lines.map(({ id, quantity, part_number, part_name, batch }) => ({
      value: id,
      label: `${job.letter}: ${pen.number(quantity)} × ${part_number} ${part_name}${batch === null ? '' : `, batch ${batch}`}`,
    })),
  )
}

/** A part line that a form names: 422 when it is none of this order. One taken off meanwhile is found, and refused as such. */
function requireLineOf(ctx: Context, orderId: string, lineId: string) {
  const lines = planOfOrder(ctx, orderId).jobs.flatMap(job => [...job.part_lines, ...job.part_lines_off])
  const line = lines.find(each => each.id === lineId)
  if (line !== undefined) return line
  throw invalid({ pointer: '/line_id', detail: 'No part of this order is called so.', code: 'unknown' })
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

function standingJobs(ctx: Context, orderId: string) {
  return planOfOrder(ctx, orderId).jobs.filter(job => job.voiding === null)
}

function jobChoices(ctx: Context, orderId: string): Choice[] {
  return standingJobs(ctx, orderId).map(({ id, letter, task }) => ({ value: id, label: `${letter} ${task}` }))
}

/** A job that a form names: 422 when it is none of this order. */
function requireJobOf(ctx: Context, orderId: string, jobId: string) {
  const job = planOfOrder(ctx, orderId).jobs.find(each => each.id === jobId)
  if (job !== undefined) return job
  throw invalid({ pointer: '/job_id', detail: 'No job of this order is called so.', code: 'unknown' })
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

import { allSymptoms } from '../../catalogue/index.ts'
import { voidJobSafely } from '../../hand-back/index.ts'
import { allParts, allSuppliers } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import { Id } from '../../platform/contract.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { ref, words } from '../../platform/pages/words.ts'
import { known, notFound } from '../../platform/problems.ts'
import { customerById, vehicleById } from '../../vehicles/index.ts'
import { PartLineInput, VoidingInput } from '../../work-orders/contract.ts'
import { addPartLine, planOfOrder, workOrderById } from '../../work-orders/index.ts'
import { StayForm } from '../contract.ts'
import { editStay, shownOdometer } from '../service/take-in.ts'
import { subjectWords } from './pen.ts'
import { symptomFields } from './symptom-fields.ts'

const PartForm = PartLineInput.extend({ job_id: Id.meta({ title: 'On job' }) })

/** Forms of a work order that stand on a page of their own. */
export function orderFormPages(pages: Pages): void {
  editPage(pages)
  partLinePage(pages)
  voidingPage(pages)
}

function sheetOf(ctx: Context, orderId: string, title: string) {
  const order = workOrderById(ctx, orderId)
  return {
    title: `${title}: ${order.number}`,
    sheet_title: title,
    sheet_number: words(ref(order.number)),
    subject: subjectWords(vehicleById(ctx, order.vehicle_id), customerById(ctx, order.customer_id)),
    nav: 'work-orders' as const,
  }
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
      const { complaint, odometer, promised_on, arrived, arrival_note, place } = form.fields()
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Put the order right'),
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
          ],
          lists: [{ id: 'symptom-names', names: allSymptoms(ctx).map(({ name }) => name) }],
          action: `/work-orders/${params.id}/edit`,
          label: 'Put it right',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params, version }) {
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
      const jobs = planOfOrder(ctx, params.id).jobs.filter(job => job.voiding === null)
      const joints = jobs.flatMap(job =>
        job.joints.map((joint): Choice => ({ value: joint.id, label: `${job.letter} ${joint.name}` })),
      )
      const { job_id, part_id, quantity, condition, price_minor, cost_minor, supplier_id, batch, joint_id } =
        form.fields({
          choices: {
            job_id: jobs.map(({ id, letter, task }): Choice => ({ value: id, label: `${letter} ${task}` })),
            part_id: allParts(ctx).map(({ id, number, name }): Choice => ({ value: id, label: `${number} ${name}` })),
            supplier_id: allSuppliers(ctx).map(({ id, name }): Choice => ({ value: id, label: name })),
            joint_id: joints,
          },
        })
      const fields = [job_id, part_id, quantity, condition, price_minor, cost_minor, supplier_id, batch]
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Add a part'),
        view: {
          says:
            jobs.length === 0
              ? 'A part hangs on a job: add the job first.'
              : 'A part that the catalogue lacks is added there first.',
          fields: joints.length === 0 ? fields : [...fields, joint_id],
          lists: [],
          action: `/work-orders/${params.id}/part-lines`,
          label: 'Add the part',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, { job_id, ...input }, { params }) {
      known('/job_id', () => requireJobOf(ctx, params.id, job_id))
      const line = addPartLine(ctx, job_id, input)
      return { to: `/work-orders/${params.id}`, notice: `Added: ${line.part_number} ${line.part_name}.` }
    },
  })
}

function voidingPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/jobs/:job_id/voiding',
    roles: ['desk'],
    contract: VoidingInput,
    page(ctx, { params, form }) {
      const job = requireJobOf(ctx, params.id, params.job_id)
      return {
        template: 'take-in/small-form',
        sheet: sheetOf(ctx, params.id, 'Not wanted after all'),
        view: {
          says: `Job ${job.letter}, ${job.task}, falls away. What was recorded on it stays, and a tool that it put in must still come out.`,
          fields: [form.fields().reason],
          lists: [],
          action: `/work-orders/${params.id}/jobs/${params.job_id}/voiding`,
          label: 'Void the job',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      const { letter, task } = requireJobOf(ctx, params.id, params.job_id)
      voidJobSafely(ctx, params.job_id, input)
      return { to: `/work-orders/${params.id}`, notice: `Voided: ${letter} ${task}.` }
    },
  })
}

function requireJobOf(ctx: Context, orderId: string, jobId: string) {
  const job = planOfOrder(ctx, orderId).jobs.find(each => each.id === jobId)
  if (job === undefined) throw notFound('job on this work order', jobId)
  return job
}

import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { allParts, allSuppliers } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import { Id } from '../../platform/contract.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { invalid } from '../../platform/problems.ts'
import { PartLineInput, PartLineRemovalInput } from '../../work-orders/contract.ts'
import { addPartLine, lastPrices, planOfOrder, removePartLine } from '../../work-orders/index.ts'
import { jobChoices, requireJobOf, standingJobs } from './jobs-of-order.ts'
import { orderHead } from './order-head.ts'
import { partAnswers } from './part-answers.ts'
import { penOf } from './pen.ts'

const PRICE_LEFT_OUT = 'Left empty: as when the part was last used.'
const { cost_minor: Cost, price_minor: Sold, ...PartFields } = PartLineInput.shape
const PartForm = z.strictObject({
  job_id: Id.meta({ title: 'On job' }),
  ...PartFields,
  cost_minor: Cost.optional().meta({ ...Cost.meta(), description: PRICE_LEFT_OUT }),
  price_minor: Sold.optional().meta({ ...Sold.meta(), description: PRICE_LEFT_OUT }),
})
const PartOffForm = z.strictObject({ line_id: Id.meta({ title: 'Part' }), ...PartLineRemovalInput.shape })

/** Parts put on the jobs of an order, and taken off again. */
export function orderPartsPages(pages: Pages): void {
  partLinePage(pages)
  partOffPage(pages)
}

function partLinePage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/part-lines',
    roles: ['desk', 'technician'],
    contract: PartForm,
    initial: (ctx, { params, query }) => {
      const [only, ...others] = standingJobs(ctx, params.id)
      const job_id = query.job ?? (others.length === 0 ? only?.id : undefined)
      return { values: { quantity: 1, condition: 'new', job_id } }
    },
    page(ctx, { params, form }) {
      const jobs = standingJobs(ctx, params.id)
      const joints = jobs.flatMap(job =>
        job.joints.map((joint): Choice => ({ value: joint.id, label: `${job.letter} ${joint.name}` })),
      )
      const { job_id, part_id, quantity, condition, price_minor, cost_minor, supplier_id, batch, joint_id } =
        form.fields({
          choices: {
            job_id: jobChoices(ctx, params.id),
            part_id: partChoices(ctx),
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
      const line = addPartLine(ctx, job_id, { ...input, ...pricesOf(ctx, input) })
      return { to: `/work-orders/${params.id}#jobs`, notice: `Added: ${line.part_number} ${line.part_name}.` }
    },
  })
}

/** With what each was last sold at. */
function partChoices(ctx: Context): Choice[] {
  const prices = lastPrices(ctx)
  const pen = penOf(settingsOf(ctx))
  return allParts(ctx).map(({ id, number, name }) => {
    const last = prices.get(id)
    return { value: id, label: `${number} ${name}${last === undefined ? '' : `, last ${pen.money(last.price_minor)}`}` }
  })
}

/** What was left out is as it was last; a part that nobody has sold yet needs its price. */
function pricesOf(ctx: Context, { part_id, cost_minor, price_minor }: Omit<z.infer<typeof PartForm>, 'job_id'>) {
  const last = lastPrices(ctx).get(part_id)
  const price = price_minor ?? last?.price_minor
  if (price !== undefined) return { price_minor: price, cost_minor: cost_minor ?? last?.cost_minor ?? 0 }
  const detail = 'Write the price: this part has not been put on a job before.'
  throw invalid({ pointer: '/price_minor', detail, code: 'missing' })
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

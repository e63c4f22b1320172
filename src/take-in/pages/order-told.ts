import { AdviceTellingInput } from '../../findings/contract.ts'
import { adviceWords, findingsOnJobs, findingWords, tellFindings, untoldOfStay } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { customerById } from '../../vehicles/index.ts'
import { planOfOrder } from '../../work-orders/index.ts'
import { WAYS_OF_TALKING } from '../rules/words.ts'
import { orderHead } from './order-head.ts'

/** Findings passed on to the customer: a safety finding that nobody has told keeps the vehicle from being handed back. */
export function orderToldPage(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/told',
    roles: ['desk', 'technician'],
    contract: AdviceTellingInput,
    initial(ctx, { params }) {
      const { order } = planOfOrder(ctx, params.id)
      const finding_ids = untoldOfStay(ctx, order).map(finding => finding.id)
      return { values: { finding_ids, with: customerById(ctx, order.customer_id).name } }
    },
    page(ctx, { params, form }) {
      const fields = form.fields({ choices: { finding_ids: toTell(ctx, params.id) } })
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, params.id, 'Who was told'),
        view: {
          says: 'Pass on the technician’s words as they stand. What comes back is written down whatever it is: “refused to sign” is an answer.',
          fields: [fields.finding_ids, fields.with, { ...fields.how, list: 'ways' }, fields.said],
          lists: [{ id: 'ways', names: WAYS_OF_TALKING }],
          action: `/work-orders/${params.id}/told`,
          label: 'Write it down',
          back: `/work-orders/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      tellFindings(ctx, params.id, input)
      return { to: `/work-orders/${params.id}#found`, notice: 'Written down.' }
    },
  })
}

/** Every finding of the stay, those that nobody has told first. */
function toTell(ctx: Context, orderId: string): Choice[] {
  const { order, jobs } = planOfOrder(ctx, orderId)
  const untold = untoldOfStay(ctx, order)
  const others = findingsOnJobs(
    ctx,
    jobs.map(job => job.id),
  ).filter(finding => !untold.some(each => each.id === finding.id))
  return [...untold, ...others].map(finding => {
    const hint = [finding.note?.replace(/\.?$/, '.'), adviceWords(finding)].filter(Boolean).join(' ')
    return { value: finding.id, label: findingWords(finding), ...(hint !== '' && { hint }) }
  })
}

import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { ToolOmissionInput } from '../../../work-orders/contract.ts'
import { jobById, leaveToolOut } from '../../../work-orders/index.ts'
import { cardHref, nextHref } from './links.ts'

const ANSWERS = ['It is not needed on this one', 'Another tool was used', 'We have none']

/** A tool of the plan that was not put in: with a reason that stays, by one tap or in one's own words. */
export function notUsedPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/planned-tools/:tool_id/omission',
    contract: ToolOmissionInput,
    page(ctx, { params, form }) {
      const tool = jobById(ctx, params.id).tools.find(each => each.id === params.tool_id)
      return {
        template: 'hand-back/not-used',
        sheet: { title: `Not used: ${tool?.tool ?? 'a tool of the plan'}`, nav: 'bench', at_bench: true },
        view: {
          fields: form.fields(),
          answers: ANSWERS,
          action: `${cardHref(params.id)}/planned-tools/${params.tool_id}/omission`,
          back: cardHref(params.id),
        },
      }
    },
    submit(ctx, { reason }, { params }) {
      leaveToolOut(ctx, params.id, params.tool_id, reason)
      return { to: nextHref(params.id) }
    },
  })
}

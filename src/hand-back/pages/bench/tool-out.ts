import { z } from 'zod'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { RemovalInput } from '../../../work-orders/contract.ts'
import { takeToolOut, toolInById } from '../../../work-orders/index.ts'
import { cardHref, nextHref } from './links.ts'

const Counted = z.strictObject({
  count: RemovalInput.shape.count.unwrap().meta({
    title: 'How many came out',
    description: 'Count them in your hand, not in your head',
    classes: 'short',
  }),
})

/** Small things out again, counted: as many as went in. */
export function toolOutPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/tools/:tool_id/out',
    contract: Counted,
    page(ctx, { params, form }) {
      const { tool, count } = toolInById(ctx, params.tool_id)
      return {
        template: 'hand-back/tool-out',
        sheet: { title: `Out of the vehicle: ${tool}`, nav: 'bench', at_bench: true },
        view: {
          says: `${count} went in.`,
          fields: form.fields(),
          action: `${cardHref(params.id)}/tools/${params.tool_id}/out`,
          back: cardHref(params.id),
        },
      }
    },
    submit(ctx, input, { params }) {
      const { tool } = toolInById(ctx, params.tool_id)
      takeToolOut(ctx, params.tool_id, input)
      return { to: nextHref(params.id), notice: `${tool}: all ${input.count} are out.` }
    },
  })
}

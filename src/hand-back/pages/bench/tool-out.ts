import { z } from 'zod'
import { capital, countWord } from '../../../core/words.ts'
import type { Context } from '../../../platform/context.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { RemovalInput, ShortfallInput, type ToolIn } from '../../../work-orders/contract.ts'
import { missingWords, noteShortfall, takeToolOut, toolInById } from '../../../work-orders/index.ts'
import { cardHref, nextHref } from './links.ts'

const Counted = z.strictObject({
  count: ShortfallInput.shape.count.meta({
    title: 'How many came out',
    description: 'Count them in your hand, not in your head',
    classes: 'short',
  }),
  may_be: ShortfallInput.shape.may_be.optional().meta({
    title: 'Where the rest may be',
    description: 'Only when fewer came out than went in. Until they are found, nothing is closed over them',
  }),
  not_inside: RemovalInput.shape.not_inside,
})

/** Tools out again, counted: as many as went in; else what is lost and where it may be. */
export function toolOutPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/tools/:tool_id/out',
    contract: Counted,
    // whoever comes here with a single thing has not found it
    initial: (ctx, { params }) => ({ values: toolInById(ctx, params.tool_id).count === 1 ? { count: 0 } : {} }),
    page(ctx, { params, form }) {
      const tool = toolInById(ctx, params.tool_id)
      return {
        template: 'hand-back/tool-out',
        sheet: { title: `Out of the vehicle: ${tool.tool}`, nav: 'bench', at_bench: true },
        view: {
          says: saysOf(tool),
          fields: form.fields(),
          may_say_not_inside: ctx.actor?.role === 'owner',
          action: `${cardHref(params.id)}/tools/${params.tool_id}/out`,
          back: cardHref(params.id),
        },
      }
    },
    submit: (ctx, input, { params }) => ({
      to: nextHref(params.id),
      notice: countedOut(ctx, params.tool_id, input),
    }),
  })
}

/** '5 went in.' */
function saysOf({ count, missing }: ToolIn): string {
  const wentIn = count === 1 ? 'One went in.' : `${count} went in.`
  if (missing === undefined) return wentIn
  return `${wentIn} ${capital(missingWords({ count, out_count: count - missing.count, may_be: missing.may_be }) ?? '')}.`
}

/** Writes down what came out, and answers what is then said. */
function countedOut(ctx: Context, toolId: string, { count, may_be, not_inside }: z.infer<typeof Counted>): string {
  const { tool, count: wentIn } = toolInById(ctx, toolId)
  if (not_inside !== undefined) {
    takeToolOut(ctx, toolId, { count, not_inside })
    return `${tool}: ${count} of ${wentIn} are out, and the rest is not in the vehicle.`
  }
  if (may_be !== undefined) {
    noteShortfall(ctx, toolId, { count, may_be })
    return `${tool}: ${countWord(wentIn - count)} lost. Until ${wentIn - count === 1 ? 'it is' : 'they are'} found, nothing is closed over ${wentIn - count === 1 ? 'it' : 'them'}.`
  }
  takeToolOut(ctx, toolId, { count })
  return wentIn === 1 ? `${tool} is out.` : `${tool}: all ${count} are out.`
}

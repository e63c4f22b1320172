import { z } from 'zod'
import { maySkipLook, recordLookResult } from '../../../findings/index.ts'
import { Line } from '../../../platform/contract.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { lookById } from '../../../work-orders/index.ts'
import { nextHref } from './links.ts'

const Skip = z.strictObject({
  skipped_reason: Line.meta({ title: 'Why nobody looks', description: 'It stays on the record' }),
})

/** A look left out, with a reason that stays; one that safety hangs on only by the owner. */
export function skipLookPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/looks/:look_id/skip',
    contract: Skip,
    page(ctx, { params, form }) {
      const look = lookById(ctx, params.look_id)
      return {
        template: 'hand-back/skip-look',
        sheet: { title: `Leave out the look: ${look.component}`, nav: 'bench', at_bench: true },
        view: {
          fields: form.fields(),
          is_safety: look.severity === 'safety',
          may: maySkipLook(look.severity, ctx.actor?.role ?? 'command line'),
          action: `/bench/jobs/${params.id}/looks/${params.look_id}/skip`,
          back: `/bench/jobs/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      recordLookResult(ctx, params.look_id, input)
      return { to: nextHref(params.id) }
    },
  })
}

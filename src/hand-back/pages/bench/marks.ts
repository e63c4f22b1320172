import { z } from 'zod'
import { Line } from '../../../platform/contract.ts'
import { pageForm } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { markById, recordMark } from '../../../work-orders/index.ts'
import { cardHref, nextHref } from './links.ts'

const NoPhoto = z.strictObject({
  note: Line.meta({ title: 'Why there is no photograph', description: 'It stays on the record' }),
})

/** A mark that asks for a photograph, made without one: with a reason that stays. */
export function noPhotoPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/jobs/:id/marks/:mark_id/no-photo',
    contract: NoPhoto,
    page: (ctx, { params, form }) => ({
      template: 'hand-back/no-photo',
      sheet: { title: `Without a photograph: ${markById(ctx, params.mark_id).text}`, nav: 'bench', at_bench: true },
      view: {
        fields: form.fields(),
        action: `${cardHref(params.id)}/marks/${params.mark_id}/no-photo`,
        back: cardHref(params.id),
      },
    }),
    submit(ctx, input, { params }) {
      recordMark(ctx, params.mark_id, input)
      return { to: nextHref(params.id) }
    },
  })
}

import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { notFound } from '../../platform/problems.ts'
import { DoubtedSinceInput } from '../../tools/contract/doubted-since.ts'
import { sayDoubtedSince } from '../../tools/index.ts'
import { causesOfDoubt } from '../service/doubt-causes.ts'
import { lastGoodWords } from './cause-words.ts'

/** A person says why only later joints are touched by a wrench that was found outside. */
export function doubtedSincePage(pages: Pages): void {
  pageForm(pages, {
    url: '/calibrations/:id/doubted-since',
    roles: ['technician'],
    contract: DoubtedSinceInput,
    page(ctx, { params, form }) {
      const cause = causesOfDoubt(ctx).byId.get(params.id)
      if (cause?.tool?.kind !== 'wrench' || cause.tool.was_dropped)
        throw notFound('calibration that found a wrench outside', params.id)
      return {
        template: 'fastening/doubted-since',
        sheet: { title: 'Only later ones are touched', subject: cause.what, nav: 'in-doubt' },
        view: {
          known: lastGoodWords(cause),
          fields: form.fields(),
          action: `/calibrations/${params.id}/doubted-since`,
        },
      }
    },
    submit(ctx, input, { params }) {
      sayDoubtedSince(ctx, params.id, input)
      return { to: '/in-doubt', notice: 'What was tightened before is no longer in doubt.' }
    },
  })
}

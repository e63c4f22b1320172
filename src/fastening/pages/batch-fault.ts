import { BatchFaultInput } from '../../parts/contract/batch-faults.ts'
import { partById, reportBatchFault } from '../../parts/index.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { batchesOfPart, inDoubt } from '../service/in-doubt.ts'
import { thingsWords } from './words.ts'

/** The desk or a technician says that a batch of a part is bad. */
export function batchFaultPage(pages: Pages): void {
  pageForm(pages, {
    url: '/parts/:id/batch-faults/new',
    roles: ['desk', 'technician'],
    contract: BatchFaultInput,
    page(ctx, { params, form }) {
      const part = partById(ctx, params.id)
      const fields = form.fields()
      return {
        template: 'fastening/batch-fault',
        sheet: { title: 'A batch is bad', subject: `${part.name}, ${part.number}` },
        view: {
          fields: { ...fields, batch: { ...fields.batch!, list: 'batches' } },
          batches: batchesOfPart(ctx, part.id),
          action: `/parts/${part.id}/batch-faults/new`,
        },
      }
    },
    submit(ctx, input, { params }) {
      const { id, batch } = reportBatchFault(ctx, params.id, input)
      return { to: '/in-doubt', notice: `Batch ${batch} is written down as bad. ${touchedWords(ctx, id)}` }
    },
  })
}

function touchedWords(ctx: Context, faultId: string): string {
  const group = inDoubt(ctx).open.find(({ cause }) => cause.id === faultId)
  if (group === undefined) return 'No job has a part of it: nothing is in doubt by it.'
  return `In doubt by it: ${thingsWords(group.joints.length, group.parts.length)}.`
}

import { z } from 'zod'
import { recordCheck } from '../../../findings/index.ts'
import { Name } from '../../../platform/contract.ts'
import { pagePost } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { orderOfJob } from '../../../work-orders/index.ts'
import { jobCardPage } from './job-card-view.ts'
import { nextHref } from './links.ts'

const CheckedFine = z.strictObject({ component: Name, symptom: Name.optional() })

/** One tap says that a component is fine; what is not goes to the finding and comes back as the outcome of the check. */
export function checkPages(pages: Pages): void {
  pagePost(pages, {
    url: '/bench/jobs/:id/checks',
    roles: ['technician'],
    contract: CheckedFine,
    page: (ctx, { params }) => jobCardPage(pages, ctx, params.id, null),
    submit(ctx, { component, symptom }, { params }) {
      recordCheck(ctx, orderOfJob(ctx, params.id), {
        ...{ component, fine: true },
        ...(symptom !== undefined && { symptom }),
      })
      return { to: nextHref(params.id), notice: `${component}: fine.` }
    },
  })
}

import type { Pages } from '../platform/http/pages.ts'
import { accessStepForms } from './pages/access-steps.ts'
import { componentForms } from './pages/components.ts'
import { operationForms } from './pages/operations.ts'
import { overviewPages } from './pages/overview.ts'
import { procedurePages } from './pages/procedures.ts'

/** The workshop's catalogue: what is done, what is opened for it, what can fail, how it is tightened. */
export function cataloguePages(pages: Pages): void {
  overviewPages(pages)
  operationForms(pages)
  accessStepForms(pages)
  componentForms(pages)
  procedurePages(pages)
}

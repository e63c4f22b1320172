import type { Pages } from '../platform/http/pages.ts'
import { accessStepForms } from './pages/access-steps.ts'
import { componentForms } from './pages/components.ts'
import { operationForms } from './pages/operations.ts'
import { overviewPages } from './pages/overview.ts'
import type { JointsByRevision } from './pages/procedure-revisions.ts'
import { procedurePages } from './pages/procedures.ts'

/**
 * The workshop's catalogue: what is done, what is opened for it, what can fail, how it is tightened. What was made by a
 * procedure only later capabilities know, so they tell it through `jointsByRevision`.
 */
export function cataloguePages(pages: Pages, jointsByRevision: JointsByRevision): void {
  overviewPages(pages)
  operationForms(pages)
  accessStepForms(pages)
  componentForms(pages)
  procedurePages(pages, jointsByRevision)
}

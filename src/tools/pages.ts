import type { Pages } from '../platform/http/pages.ts'
import { recordPages } from './pages/records.ts'
import { registerPages } from './pages/register.ts'

/** The register of torque wrenches: due dates and state in words, and the forms that add to it. */
export function toolsPages(pages: Pages): void {
  registerPages(pages)
  recordPages(pages)
}

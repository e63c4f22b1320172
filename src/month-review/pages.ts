import type { Pages } from '../platform/http/pages.ts'
import { monthPage } from './pages/month.ts'
import { monthsPage } from './pages/months.ts'

export function monthReviewPages(pages: Pages): void {
  monthsPage(pages)
  monthPage(pages)
}

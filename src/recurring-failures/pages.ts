import type { Pages } from '../platform/http/pages.ts'
import { pairPage } from './pages/pair.ts'
import { recurrencePage } from './pages/recurrence.ts'
import { whatFollowsWhatPage } from './pages/what-follows-what.ts'

export function recurringFailuresPages(pages: Pages): void {
  whatFollowsWhatPage(pages)
  recurrencePage(pages)
  pairPage(pages)
}

import type { Pages } from '../platform/http/pages.ts'
import { firstChecksPage } from './pages/first-checks.ts'
import { pairPage } from './pages/pair.ts'
import { pairLookPost } from './pages/pair-look.ts'
import { recurrencePage } from './pages/recurrence.ts'
import { seasonPage } from './pages/season.ts'
import { whatFollowsWhatPage } from './pages/what-follows-what.ts'

export function recurringFailuresPages(pages: Pages): void {
  whatFollowsWhatPage(pages)
  recurrencePage(pages)
  firstChecksPage(pages)
  seasonPage(pages)
  pairPage(pages)
  pairLookPost(pages)
}

import type { Pages } from '../platform/http/pages.ts'
import { firstChecksPage } from './pages/first-checks.ts'
import { pairPage } from './pages/pair.ts'
import { pairLookPost } from './pages/pair-look.ts'
import { recurrencePage } from './pages/recurrence.ts'
import { seasonPage } from './pages/season.ts'
import { whatFollowsWhatPage } from './pages/what-follows-what.ts'
import type { ConfirmedComebacks } from './service/confirmed-comebacks.ts'

/** What came back is decided in a later capability, so it tells it through `confirmedComebacks`. */
export function recurringFailuresPages(pages: Pages, confirmedComebacks: ConfirmedComebacks): void {
  whatFollowsWhatPage(pages, confirmedComebacks)
  recurrencePage(pages)
  firstChecksPage(pages)
  seasonPage(pages)
  pairPage(pages, confirmedComebacks)
  pairLookPost(pages)
}

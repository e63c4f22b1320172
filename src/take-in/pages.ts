import type { Pages } from '../platform/http/pages.ts'
import { inHousePage } from './pages/in-house.ts'
import { newcomerPage } from './pages/newcomer.ts'
import { takeInFormPages } from './pages/take-in.ts'

/** The desk's pages: what is here, taking in, work orders, and a vehicle with its life. */
export function takeInPages(pages: Pages): void {
  inHousePage(pages)
  takeInFormPages(pages)
  newcomerPage(pages)
}

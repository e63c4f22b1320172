import type { Pages } from '../platform/http/pages.ts'
import { handBackFormPages } from './pages/hand-back.ts'
import { invoicePages } from './pages/invoice.ts'

/** The desk's pages of the hand-back; the bench's are in pages/bench.ts. */
export function handBackPages(pages: Pages): void {
  handBackFormPages(pages)
  invoicePages(pages)
}

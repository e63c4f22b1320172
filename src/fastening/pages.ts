import type { Pages } from '../platform/http/pages.ts'
import { batchFaultPage } from './pages/batch-fault.ts'
import { callPage } from './pages/call.ts'
import { doubtedSincePage } from './pages/doubted-since.ts'
import { inDoubtPage } from './pages/in-doubt.ts'
import { settlePages } from './pages/settle.ts'

/** What is in doubt, whom to call, and the forms that put in doubt, narrow and settle. */
export function fasteningPages(pages: Pages): void {
  inDoubtPage(pages)
  settlePages(pages)
  callPage(pages)
  doubtedSincePage(pages)
  batchFaultPage(pages)
}

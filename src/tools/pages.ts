import type { Pages } from '../platform/http/pages.ts'
import { adapterPages } from './pages/adapters.ts'
import { gaugePages } from './pages/gauges.ts'
import { recordPages } from './pages/records.ts'
import { registerPages } from './pages/register.ts'
import { wrenchPages } from './pages/wrenches.ts'
import type { ToolUse } from './service/use.ts'

/** The register of wrenches, gauges and adapters: how each stands in words, what it was used for, and the forms that add to it. */
export function toolsPages(pages: Pages, use: ToolUse): void {
  registerPages(pages, use)
  wrenchPages(pages, use)
  recordPages(pages, use)
  gaugePages(pages, use)
  adapterPages(pages, use)
}

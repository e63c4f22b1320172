import type { Pages } from '../platform/http/pages.ts'
import { actionsPages } from './pages/actions.ts'
import { claimsPages } from './pages/claims.ts'
import { comebacksPage } from './pages/comebacks.ts'
import { decidePage } from './pages/decide.ts'
import { lossesPages } from './pages/losses.ts'
import { ratePage } from './pages/rate.ts'
import { whatIfPage } from './pages/what-if.ts'

export function comebacksPages(pages: Pages): void {
  comebacksPage(pages)
  ratePage(pages)
  actionsPages(pages)
  claimsPages(pages)
  lossesPages(pages)
  whatIfPage(pages)
  decidePage(pages)
}

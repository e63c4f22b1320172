import type { Pages } from '../platform/http/pages.ts'
import { customerPages } from './pages/customer.ts'
import { findPage } from './pages/find.ts'
import { keeperPage } from './pages/keeper.ts'
import { vehicleForms } from './pages/vehicle-forms.ts'

/** The one box with its list, and the forms for vehicles, keepers and customers. A vehicle's own page is take-in's. */
export function vehiclesPages(pages: Pages): void {
  findPage(pages)
  vehicleForms(pages)
  keeperPage(pages)
  customerPages(pages)
}

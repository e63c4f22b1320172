import type { Pages } from '../platform/http/pages.ts'
import { customerPages } from './pages/customer.ts'
import { keeperPage } from './pages/keeper.ts'
import { vehicleForms } from './pages/vehicle-forms.ts'

/** The forms for vehicles, keepers and customers. The list of vehicles and a vehicle's own page are take-in's. */
export function vehiclesPages(pages: Pages): void {
  vehicleForms(pages)
  keeperPage(pages)
  customerPages(pages)
}

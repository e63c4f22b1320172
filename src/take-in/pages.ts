import type { Pages } from '../platform/http/pages.ts'
import { estimatePages } from './pages/estimate.ts'
import { inHousePage } from './pages/in-house.ts'
import { newcomerPage } from './pages/newcomer.ts'
import { orderPage } from './pages/order.ts'
import { orderFormPages } from './pages/order-forms.ts'
import { orderPartsPages } from './pages/order-parts.ts'
import { orderPlacesPages } from './pages/order-places.ts'
import { orderToldPage } from './pages/order-told.ts'
import { orderWaitsPages } from './pages/order-waits.ts'
import { ordersListPage } from './pages/orders-list.ts'
import { takeInFormPages } from './pages/take-in.ts'
import { vehiclePage } from './pages/vehicle.ts'
import { vehicleFormPages } from './pages/vehicle-forms.ts'
import { vehiclesListPage } from './pages/vehicles-list.ts'

/** The desk's pages: what is here, taking in, work orders, and a vehicle with its life. */
export function takeInPages(pages: Pages): void {
  inHousePage(pages)
  takeInFormPages(pages)
  newcomerPage(pages)
  ordersListPage(pages)
  orderPage(pages)
  orderFormPages(pages)
  orderToldPage(pages)
  orderPartsPages(pages)
  orderPlacesPages(pages)
  orderWaitsPages(pages)
  estimatePages(pages)
  vehiclesListPage(pages)
  vehiclePage(pages)
  vehicleFormPages(pages)
}

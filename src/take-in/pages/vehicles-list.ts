import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { type FoundVehicle, findVehicles } from '../../vehicles/index.ts'
import { searched, TO_PAGES } from './find-box.ts'
import { vehicleRow } from './found.ts'
import { penOf } from './pen.ts'

const AT_ONCE = 50

const Asked = z.strictObject({ q: z.string().max(200).optional(), from: z.int().min(0).max(10_000_000).optional() })

/** Every vehicle, newest first, with the one box above. */
export function vehiclesListPage(pages: Pages): void {
  pageRead(pages, {
    url: '/vehicles',
    query: Asked,
    handle(ctx, { query: { q = '', from = 0 } }) {
      const search = searched(ctx, q, penOf(settingsOf(ctx)), TO_PAGES)
      if ('to' in search) return search
      const vehicles = findVehicles(ctx, '', AT_ONCE + 1, from)
      const shown = vehicles.slice(0, AT_ONCE)
      const isMore = vehicles.length > AT_ONCE
      return {
        template: 'take-in/vehicles',
        sheet: { title: 'Vehicles', nav: 'vehicles', subject: 'Newest first' },
        view: {
          q,
          ...search,
          vehicles: vehiclesTable(shown, from),
          more:
            from === 0 && !isMore
              ? null
              : {
                  says: `${from + 1} to ${from + shown.length}`,
                  first: from === 0 ? null : '/vehicles',
                  next: isMore ? `/vehicles?from=${from + AT_ONCE}` : null,
                },
        },
      }
    },
  })
}

function vehiclesTable(vehicles: FoundVehicle[], from: number): TableView {
  return table({
    columns: [column('Registration'), column('Family'), column('Keeper'), column('Telephone')],
    rows: vehicles.map(vehicle => vehicleRow(vehicle, TO_PAGES)),
    empty:
      from > 0
        ? 'The list ends before this page.'
        : 'No vehicle is in the book yet. Add the first one; its registration and its family are enough.',
  })
}

import { z } from 'zod'
import { shortDay } from '../../core/days.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import { PriorWorkQuery } from '../contract.ts'
import { type VehicleBehind, vehiclesBehindPair } from '../service/prior-work.ts'
import { failureName, queryText, whole } from './numbers.ts'

const Query = PriorWorkQuery.extend({
  operation: z.string(),
  component: z.string(),
  failure_mode: z.string().optional(),
})

const BY = { us: 'us', other: 'another workshop', owner: 'the owner', unknown: 'nobody knows whom' } as const

export function pairPage(pages: Pages): void {
  pageRead(pages, {
    url: '/recurring/pair',
    query: Query,
    handle(ctx, { query: { operation, component, failure_mode = null, ...query } }) {
      const behind = vehiclesBehindPair(ctx, query, { operation, component, failure_mode })
      const unit = query.clock === 'distance' ? 'km' : 'days'
      const failures = behind.reduce((sum, vehicle) => sum + vehicle.failures.length, 0)
      const on = `${behind.length} ${behind.length === 1 ? 'vehicle' : 'vehicles'}`
      return {
        template: 'recurring-failures/pair',
        sheet: {
          title: `${operation}, then ${failureName(component, failure_mode)}`,
          sheet_number: `${failures} on ${on}`,
          nav: 'recurring',
        },
        view: {
          headline: `“${failureName(component, failure_mode)}” came after “${operation}” ${failures} ${failures === 1 ? 'time' : 'times'}, on ${on}.`,
          vehicles: behindTable(behind, unit),
          back: `/recurring?${queryText(query)}`,
        },
      }
    },
  })
}

function behindTable(behind: readonly VehicleBehind[], unit: string) {
  return table({
    columns: [
      column('Vehicle'),
      column('Family'),
      column('Failed on', 'date'),
      column('After', 'figure'),
      column('Work by'),
    ],
    rows: behind.flatMap(({ vehicle_id, title, family, failures }) =>
      failures.map(({ on, delay, by }) => ({
        cells: [
          words(link(`/vehicles/${encodeURIComponent(vehicle_id)}`, title)),
          family,
          shortDay(on),
          delay === null ? 'not dated' : `${whole(delay)} ${unit}`,
          BY[by],
        ],
      })),
    ),
    empty: 'On no vehicle did this failure come after this work.',
  })
}

import { z } from 'zod'
import { shortDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import { analysed } from '../../platform/workers/analysed.ts'
import type { PriorWorkPair } from '../contract.ts'
import { priorWorkPairs, type VehicleBehind, vehiclesBehindPair } from '../service/prior-work.ts'
import { analysisOf, PairsQuery } from './asked.ts'
import { failureName, queryText, whole } from './numbers.ts'
import { pairLook } from './pair-look.ts'
import { pairSentence, whatWouldTell } from './pair-sentence.ts'
import { findingsSay } from './pairs-view.ts'

const Query = PairsQuery.extend({
  operation: z.string(),
  component: z.string(),
  failure_mode: z.string().optional(),
})

const BY = { us: 'us', other: 'another workshop', owner: 'the owner', unknown: 'nobody knows whom' } as const

export function pairPage(pages: Pages): void {
  pageRead(pages, {
    url: '/recurring/pair',
    query: Query,
    async handle(ctx, { query: { operation, component, failure_mode = null, ...query } }) {
      const asked = analysisOf(query)
      const names = { operation, component, failure_mode }
      const behind = vehiclesBehindPair(ctx, asked, names)
      const { pairs, clock } = await analysed(ctx, 'prior-work', asked, priorWorkPairs)
      const pair = pairs.find(
        each => each.operation === operation && each.component === component && each.failure_mode === failure_mode,
      )
      const failures = behind.reduce((sum, vehicle) => sum + vehicle.failures.length, 0)
      const on = counted(behind.length, 'vehicle')
      return {
        template: 'recurring-failures/pair',
        sheet: {
          title: `${operation}, then ${failureName(component, failure_mode)}`,
          sheet_number: `${failures} on ${on}`,
          nav: 'recurring',
        },
        view: {
          headline:
            pair === undefined
              ? `“${failureName(component, failure_mode)}” came after “${operation}” ${counted(failures, 'time')}, on ${on}. That is too few to test.`
              : pairSentence(pair, clock),
          would_tell: pair === undefined ? null : whatWouldTell(pair, clock),
          evidence: evidence(pair),
          look: pairLook(ctx, names, query),
          vehicles: behindTable(behind, clock === 'distance' ? 'km' : 'days'),
          back: `/recurring?${queryText(query)}`,
        },
      }
    },
  })
}

/** What a person has said of it; without that it stays an association. */
function evidence(pair: PriorWorkPair | undefined): string {
  const settles = 'a finding that says what caused it settles more than the numbers can.'
  if (pair === undefined || pair.findings_say === 0)
    return `That is an association, not yet a cause. Look each of them up: ${settles}`
  return `${findingsSay(pair.findings_say)} They are marked below and are no part of the numbers. Of the others only the numbers speak: ${settles}`
}

function behindTable(behind: readonly VehicleBehind[], unit: string) {
  return table({
    columns: [
      column('Vehicle'),
      column('Family'),
      column('Failed on', 'date'),
      column('After', 'figure'),
      column('Work by'),
      column('A finding says'),
    ],
    rows: behind.flatMap(({ vehicle_id, title, family, failures }) =>
      failures.map(({ on, delay, by, is_caused }) => ({
        cells: [
          words(link(`/vehicles/${encodeURIComponent(vehicle_id)}`, title)),
          family,
          shortDay(on),
          delay === null ? 'not dated' : `${whole(delay)} ${unit}`,
          BY[by],
          is_caused ? 'caused by it' : 'nothing',
        ],
      })),
    ),
    empty: 'On no vehicle did this failure come after this work.',
  })
}

import { z } from 'zod'
import { shortDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { type Cell, column, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import { analysedSoon } from '../../platform/workers/analysed.ts'
import { lookTells } from '../rules/look-tells.ts'
import {
  type ConfirmedComeback,
  type ConfirmedComebacks,
  comebackCount,
  ofPair,
} from '../service/confirmed-comebacks.ts'
import { priorWorkPairs, type VehicleBehind, vehiclesBehindPair } from '../service/prior-work.ts'
import { analysisOf, PairsQuery } from './asked.ts'
import { failureName, queryText, whole } from './numbers.ts'
import { pairLook } from './pair-look.ts'
import { pairSentence } from './pair-sentence.ts'
import { pairWords, untestedEvidence } from './pair-words.ts'

const Query = PairsQuery.extend({
  operation: z.string(),
  component: z.string(),
  failure_mode: z.string().optional(),
})

const BY = { us: 'us', other: 'another workshop', owner: 'the owner', unknown: 'nobody knows whom' } as const

export function pairPage(pages: Pages, confirmedComebacks: ConfirmedComebacks): void {
  pageRead(pages, {
    url: '/recurring/pair',
    query: Query,
    async handle(ctx, { query: { operation, component, failure_mode = null, ...query } }) {
      const asked = analysisOf(query)
      const names = { operation, component, failure_mode }
      const behind = vehiclesBehindPair(ctx, asked, names)
      const { pairs, clock } = await analysedSoon(ctx, 'prior-work', asked, priorWorkPairs)
      const pair = pairs.find(
        each => each.operation === operation && each.component === component && each.failure_mode === failure_mode,
      )
      const failures = behind.reduce((sum, vehicle) => sum + vehicle.failures.length, 0)
      const on = counted(behind.length, 'vehicle')
      const confirmed = ofPair(confirmedComebacks(ctx, query.as_of), names)
      const count = comebackCount(confirmed)
      const said = pair === undefined ? null : pairWords(pair, clock, count)
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
          decoy: said?.decoy ?? null,
          would_tell: said?.would_tell ?? null,
          evidence: said?.evidence ?? untestedEvidence(count),
          look: pairLook(ctx, names, query, pair === undefined || lookTells(pair)),
          vehicles: behindTable(behind, {
            ...{ confirmed, unit: clock === 'distance' ? 'km' : 'days' },
          }),
          back: `/recurring?${queryText(query)}`,
        },
      }
    },
  })
}

interface Behind {
  confirmed: readonly ConfirmedComeback[]
  unit: string
}

function behindTable(behind: readonly VehicleBehind[], shown: Behind) {
  return table({
    columns: [
      column('Vehicle'),
      column('Family'),
      column('Failed on', 'date'),
      column('After', 'figure'),
      column('Work by'),
      column('What a person says'),
    ],
    rows: behind.flatMap(vehicle =>
      vehicle.failures.map(failure => ({
        cells: [
          words(link(`/vehicles/${encodeURIComponent(vehicle.vehicle_id)}`, vehicle.title)),
          vehicle.family,
          shortDay(failure.on),
          failure.delay === null ? 'not dated' : `${whole(failure.delay)} ${shown.unit}`,
          BY[failure.by],
          personSays(vehicle, failure, shown),
        ],
      })),
    ),
    empty: 'On no vehicle did this failure come after this work.',
  })
}

/** A finding that names the cause, a decision that it came back of that work; each by itself, since they may differ. */
function personSays(
  { vehicle_id }: VehicleBehind,
  { on, is_caused }: VehicleBehind['failures'][number],
  { confirmed }: Behind,
): Cell {
  const decided = confirmed.filter(each => each.vehicle_id === vehicle_id && each.on === on)
  const said = decided.map(({ href, root_cause }): Words => {
    const chain = root_cause.length === 0 ? '' : `: ${root_cause.join('; ')}`
    if (href === null) return `a comeback, says the imported history${chain}`
    return words(link(href, 'a comeback, confirmed'), chain)
  })
  if (is_caused) return { text: 'caused by it, says a finding', notes: said }
  const [first = 'nothing', ...others] = said
  return { text: first, notes: others }
}

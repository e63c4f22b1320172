import { z } from 'zod'
import { longDay } from '../../core/days.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { analysed } from '../../platform/workers/analysed.ts'
import { type PriorWork, PriorWorkQuery } from '../contract.ts'
import { priorWorkPairs } from '../service/prior-work.ts'
import { crudeWords, evidence, headline } from './headline.ts'
import { queryText, rough, whole } from './numbers.ts'
import { pairHref, pairsTable, unitOfTime } from './pairs-view.ts'

/** Pairs beyond these are rarely looked at, and each has a drawing. */
const SHOWN = 40

const Query = PriorWorkQuery.extend({ all: z.boolean().optional() })

export function whatFollowsWhatPage(pages: Pages): void {
  const shape = shapeOf(PriorWorkQuery)
  pageRead(pages, {
    url: '/recurring',
    query: Query,
    refused: (_ctx, { form }) => ({
      template: 'recurring-failures/what-follows-what',
      sheet: { title: 'What follows what', nav: 'recurring' },
      view: { ...NOTHING_ANSWERED, fields: form.fields() },
    }),
    async handle(ctx, { query: { all, ...query } }) {
      const habits = pages.habits()
      const result = await analysed(ctx, 'prior-work', query, priorWorkPairs)
      const shown = all === true ? result.pairs : result.pairs.slice(0, SHOWN)
      const often = result.pairs.find(pair => pair.says === 'often')
      return {
        template: 'recurring-failures/what-follows-what',
        sheet: {
          title: 'What follows what',
          sheet_number: `${whole(result.pairs.length)} ${result.pairs.length === 1 ? 'pair' : 'pairs'} tested`,
          subject: subject(result, query),
          dates: dates(result),
          nav: 'recurring',
        },
        view: {
          headline: headline(result),
          crude: often === undefined ? null : crudeWords(often, result.clock),
          evidence: evidence(result),
          evidence_href: often === undefined ? null : pairHref(often, query),
          pairs: pairsTable(result, shown, query, habits),
          pairs_aside: aside(query),
          more:
            shown.length === result.pairs.length
              ? null
              : {
                  text: `The first ${shown.length} of ${whole(result.pairs.length)}.`,
                  href: `/recurring?${queryText({ all: true, ...query })}`,
                },
          fields: describe(shape, { typed: encode({ clock: 'days', ...query }, shape, habits), errors: {}, habits }),
        },
      }
    },
  })
}

const NOTHING_ANSWERED = { headline: null, crude: null, evidence: null, evidence_href: null, pairs: null, more: null }

const BY = { us: 'by us', other: 'by other workshops', owner: 'by owners', unknown: 'by nobody knows whom' } as const

function subject({ clock }: PriorWork, { window, by }: PriorWorkQuery): string {
  const within =
    window === undefined ? 'at any time after it' : `within ${whole(window)} ${clock === 'days' ? 'days' : 'km'}`
  return `Work ${by === undefined ? 'by anyone' : BY[by]}, then a failure on the same vehicle ${within} · clock: ${clock}`
}

function dates({ vehicles, pairs, clock, as_of }: PriorWork): string {
  const [pair] = pairs
  const time = pair === undefined ? '' : `, ${rough(pair.exposed.time + pair.unexposed.time)} ${unitOfTime(clock)}`
  return `${whole(vehicles)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}${time}, to ${longDay(as_of)}`
}

function aside({ min_events }: PriorWorkQuery): string {
  return `The tick is the estimate, the line its 95 % interval; the thin upright is “no difference”. Times as often, each step doubles. Pairs with fewer than ${min_events ?? 3} failures are not tested. Ratio: vehicles of the same family compared with each other (Mantel–Haenszel); under it what comes out when all families are counted together. q is the share of such claims to expect wrong. Share: of the failures after it, how many would not have come without it, were it the cause; under it what all of them cost, those without a stated cost at the mean of the others.`
}

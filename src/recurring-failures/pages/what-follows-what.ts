import { z } from 'zod'
import { longDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { analysedSoon } from '../../platform/workers/analysed.ts'
import type { PriorWork, PriorWorkPair, PriorWorkQuery } from '../contract.ts'
import type { ConfirmedComebacks } from '../service/confirmed-comebacks.ts'
import { priorWorkPairs } from '../service/prior-work.ts'
import { analysisOf, PairsQuery } from './asked.ts'
import { crudeWords, headline } from './headline.ts'
import { queryText, rough, whole } from './numbers.ts'
import { pairLook } from './pair-look.ts'
import { unitOfTime } from './pair-sentence.ts'
import { pairWords } from './pair-words.ts'
import { confirmedOf, inOrder, pairHref, pairsTable } from './pairs-view.ts'
import { placesFrom } from './places.ts'

/** Pairs beyond these are rarely looked at, and each has a drawing. */
const SHOWN = 20

const Query = PairsQuery.extend({ all: z.boolean().optional() })

export function whatFollowsWhatPage(pages: Pages, confirmedComebacks: ConfirmedComebacks): void {
  const shape = shapeOf(PairsQuery)
  const places = placesFrom('/recurring')
  pageRead(pages, {
    url: '/recurring',
    query: Query,
    refused: (_ctx, { form }) => ({
      template: 'recurring-failures/what-follows-what',
      sheet: { title: 'What follows what', nav: 'recurring' },
      view: { places, ...NOTHING_ANSWERED, fields: form.fields() },
    }),
    async handle(ctx, { query: { all, ...query } }) {
      const habits = pages.habits()
      const asked = analysisOf(query)
      const result = await analysedSoon(ctx, 'prior-work', asked, priorWorkPairs)
      const pairs = inOrder(result.pairs)
      const shown = all === true ? pairs : pairs.slice(0, SHOWN)
      const confirmed = confirmedComebacks(ctx, query.as_of)
      const often = result.pairs.find(pair => pair.says === 'often')
      return {
        template: 'recurring-failures/what-follows-what',
        sheet: {
          title: 'What follows what',
          sheet_number: `${whole(result.pairs.length)} ${result.pairs.length === 1 ? 'pair' : 'pairs'} tested`,
          subject: subject(result, asked),
          dates: dates(result),
          nav: 'recurring',
        },
        view: {
          places,
          headline: headline(result),
          crude: often === undefined ? null : crudeWords(often, result.clock),
          evidence: often === undefined ? FEW : pairWords(often, result.clock, confirmedOf(often, confirmed)).evidence,
          ...(often === undefined ? NOTHING_OFTEN : settling(ctx, often, query)),
          no_window: asked.window === undefined ? NO_WINDOW : null,
          pairs: pairsTable(result, { shown, confirmed }, query, habits),
          pairs_aside: aside(asked),
          more:
            shown.length === result.pairs.length
              ? null
              : {
                  text: `The first ${shown.length} of ${whole(result.pairs.length)}.`,
                  href: `/recurring?${queryText({ all: true, ...query })}`,
                },
          fields: describe(shape, {
            typed: encode({ clock: 'days', ...asked, ...query }, shape, habits),
            errors: {},
            habits,
          }),
        },
      }
    },
  })
}

const NOTHING_ANSWERED = {
  ...{ headline: null, crude: null, evidence: null, asked_for: null, settle: null, no_window: null },
  ...{ pairs: null, more: null },
}

const FEW = 'Few failures leave much open: a pair that is not shown may still be one.'
const NOTHING_OFTEN = { asked_for: null, settle: null }

/** What can be done about the surest pair: look each of them up, and ask for the look that would settle it. */
function settling(ctx: Context, often: PriorWorkPair, query: PairsQuery) {
  const { says, actions } = pairLook(ctx, often, query)
  const behind: Action = { kind: 'button', label: 'The vehicles behind it', href: pairHref(often, query) }
  return { asked_for: says, settle: [behind, ...actions] }
}

const NO_WINDOW =
  'Without a window old vehicles are compared with young ones: work and failures both come with age. In simulated workshops about half of what looked often that way was not.'

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
  return `Counts first. The tick is how many times as often it comes after the work as without it, the line how far chance alone may have moved it (95 %); the thin upright is “no difference”, each step doubles. So many times: vehicles of the same family compared with each other; under it what comes out when all families are counted together. Expect wrong: were everything called a pair that is at least as sure, so large a share of it would be chance. Share: of the failures after it, how many would not have come without it, were it the cause; under it what all of them cost, those without a stated cost at the mean of the others. Pairs with fewer than ${min_events ?? 3} failures are not tested. Methods: ratio of Mantel and Haenszel with exact mid-P limits, q of Benjamini and Hochberg.`
}

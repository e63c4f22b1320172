import { formatMinor } from '../../core/money.ts'
import { listed } from '../../core/words.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { intervalAxis, intervalRow, ratioAxis } from '../../platform/pages/figures/interval-row.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { em, link, type Piece, words } from '../../platform/pages/words.ts'
import type { PriorWork, PriorWorkPair } from '../contract.ts'
import { type ConfirmedComeback, comebackCount, ofPair } from '../service/confirmed-comebacks.ts'
import type { PairsQuery } from './asked.ts'
import { chance, failureName, percent, queryText, rough, whole } from './numbers.ts'
import { pairInShort, unitOfTime } from './pair-sentence.ts'
import { type PairWords, pairWords } from './pair-words.ts'

const SAYS = {
  often: 'often followed by',
  may: 'may be followed by',
  not_shown: 'not shown to be followed by',
} as const

const DOERS = { us: 'by us', other: 'by other workshops', owner: 'by owners', unknown: 'unknown' } as const
const AXIS = ratioAxis(300)

/** Names of one pair and how it was counted, as the address of its page. */
export function pairHref(
  pair: Pick<PriorWorkPair, 'operation' | 'component' | 'failure_mode'>,
  query: PairsQuery,
): string {
  const { operation, component, failure_mode } = pair
  return `/recurring/pair?${queryText({ operation, component, failure_mode: failure_mode ?? undefined, ...query })}`
}

const RANK = { often: 0, may: 1, not_shown: 2 } as const

/** As the page lists them: what is shown, then what may be, then what is not; within each by p, as the analysis has them. */
export function inOrder(pairs: readonly PriorWorkPair[]): PriorWorkPair[] {
  return pairs.toSorted((one, other) => RANK[one.says] - RANK[other.says])
}

/** How many comebacks of the work with the failure a person has confirmed. */
export function confirmedOf(pair: PriorWorkPair, confirmed: readonly ConfirmedComeback[]): number {
  return comebackCount(ofPair(confirmed, pair))
}

/** Pair by pair: counts, the interval on one axis, ratio, q, share and whole cost. */
export function pairsTable(
  result: PriorWork,
  { shown, confirmed }: { shown: readonly PriorWorkPair[]; confirmed: readonly ConfirmedComeback[] },
  query: PairsQuery,
  habits: Habits,
): TableView {
  const unit = unitOfTime(result.clock)
  return table({
    pairs: true,
    columns: [
      column('Earlier work, later failure'),
      column(`Failures in ${unit}`, 'figure', 'after it, without it'),
      column('Times as often', 'plot'),
      column('So many times', 'figure', 'likely range; all families together'),
      column('Expect wrong', 'figure', 'of claims as sure (q)'),
      column('Share', 'figure', 'likely range; whole cost'),
    ],
    rows: shown.map((pair, place) => {
      const said = pairWords(pair, result.clock, confirmedOf(pair, confirmed))
      return pairRow(pair, place, said, { clock: result.clock, query, habits })
    }),
    foot: [
      {
        axis: true,
        cells: [
          '',
          '',
          { plot: intervalAxis(AXIS, 'pairs-axis', 'Times as often, one eighth to thirty-two, each step doubles') },
        ],
      },
    ],
    empty: 'No pair of work and later failure has enough failures to be tested yet.',
  })
}

function pairRow(
  pair: PriorWorkPair,
  place: number,
  { decoy, would_tell, people }: PairWords,
  { clock, query, habits }: { clock: PriorWork['clock']; query: PairsQuery; habits: Habits },
): Row {
  const failure = failureName(pair.component, pair.failure_mode)
  const { exposed, unexposed, rate_ratio, lower, upper } = pair
  const limits = `${lower === null ? '' : rough(lower)} to ${upper === null ? 'no limit' : rough(upper)}`
  const plot = intervalRow(AXIS, {
    id: `pair-${place}`,
    title: `Rate ratio: ${pair.operation}, ${failure}`,
    description: `${rate_ratio === null ? 'Never without it' : `${rough(rate_ratio)} times`}, interval ${limits}`,
    estimate: rate_ratio,
    lower: lower ?? 0,
    upper: upper ?? Number.POSITIVE_INFINITY,
    height: 40,
  })
  return {
    cells: [
      {
        text: pairName(pair, failure, query),
        notes: [
          pairInShort(pair, clock),
          decoy ?? '',
          would_tell ?? '',
          [who(pair), people ?? ''].join(' ').trim(),
          ...(pair.says === 'not_shown' ? [] : [quartersOf(pair, clock)]),
        ].filter(note => note !== ''),
      },
      {
        text: `${exposed.events} in ${rough(exposed.time)}`,
        notes: [`${unexposed.events} in ${rough(unexposed.time)}`],
      },
      { plot },
      {
        text: rate_ratio === null ? '–' : rough(rate_ratio),
        notes: [limits, together(pair)].filter(note => note !== ''),
      },
      chance(pair.q),
      { text: shareText(pair), notes: shareNotes(pair, habits) },
    ],
  }
}

function pairName(pair: PriorWorkPair, failure: string, query: PairsQuery): Piece[] {
  return words(link(pairHref(pair, query), pair.operation), ' ', em(SAYS[pair.says]), ' ', failure)
}

function together({ crude_rate_ratio }: PriorWorkPair): string {
  return crude_rate_ratio === null ? '' : `together ${rough(crude_rate_ratio)}`
}

function who({ exposed, by }: PriorWorkPair): string {
  if (exposed.events === 0) return ''
  const doers = (Object.keys(DOERS) as (keyof typeof DOERS)[])
    .filter(doer => by[doer] > 0)
    .sort((a, b) => by[b] - by[a])
    .map(doer => `${by[doer]} ${DOERS[doer]}`)
  return `Of ${exposed.events}, ${listed(doers)}.`
}

function quartersOf({ delay, exposed }: PriorWorkPair, clock: PriorWork['clock']): string {
  const { n, q1, median, q3 } = delay
  if (exposed.events === 0) return ''
  if (n < 3 || q1 === null || median === null || q3 === null) return 'Too few to say after how long.'
  return `Quarter, half, three quarters of them came after ${whole(q1)}, ${whole(median)}, ${whole(q3)} ${clock === 'days' ? 'days' : 'km'}.`
}

function shareText({ share_attributed }: PriorWorkPair): string {
  return share_attributed === null ? '' : `${percent(share_attributed.share)} %`
}

function shareNotes(
  { share_attributed, mean_cost_minor, exposed }: PriorWorkPair,
  { currency, locale }: Habits,
): string[] {
  const limits =
    share_attributed === null ? [] : [`${percent(share_attributed.lower)} to ${percent(share_attributed.upper)}`]
  if (mean_cost_minor === null) return limits
  return [...limits, `${formatMinor(mean_cost_minor * exposed.events, currency, locale)} in all`]
}

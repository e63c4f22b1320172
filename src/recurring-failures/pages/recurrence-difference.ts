import { counted, countWord } from '../../core/words.ts'
import { differenceChart } from '../../platform/pages/figures/difference-chart.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import type { Recurrence, RecurrenceQuery } from '../contract.ts'
import { ENOUGH_WATCHED } from '../rules/enough-watched.ts'
import type { RecurrenceSeen } from '../service/recurrence.ts'
import { queryText, whole } from './numbers.ts'
import { groupName, thinned, whatRecurs } from './recurrence-view.ts'

type Difference = NonNullable<Recurrence['difference']>

/** Two groups compared, in a sentence and in figures, drawn where they tell something; null when only one was asked for. */
export function differenceView({ recurrence }: RecurrenceSeen, query: RecurrenceQuery) {
  const { compare, difference, clock } = recurrence
  if (compare === undefined) return null
  if (difference === undefined)
    return {
      headline:
        'The two have vehicles in common, so their difference cannot be told: name a family, or a variant, for both.',
      figure: null,
      table: null,
    }
  const [one, other] = [groupName(query), groupName(compare)]
  const unit = clock === 'days' ? 'days' : 'km'
  const told = lastTold(difference, unit)
  const figures = difference.points.length === 0 ? null : differenceTable(difference.points, unit, query)
  if ('cannot' in told) return { headline: `Cannot tell${told.cannot}`, figure: null, table: figures }
  const headline = inWords(difference, told.last, { one, other, unit })
  return {
    headline,
    table: null,
    figure: {
      drawings: differenceChart({
        id: 'difference',
        title: `${whatRecurs(query)}, less that of ${other}`,
        description: `Difference of the two mean cumulative functions at ${difference.points.length} ages. ${headline}`,
        ...{ points: difference.points, from: difference.from, end: difference.until },
        across: clock === 'days' ? 'days in service' : 'km driven',
        above: `more on ${one}`,
        below: `more on ${other}`,
      }),
      caption:
        'Repairs per vehicle of the first less those of the second, from the age at which both are watched as long as both are. Dashed: how far chance alone may have moved it (95 %). Where that takes in zero, or few of either are still watched, the two cannot be told apart. Method: robust variances of Lawless and Nadeau, added up.',
      table: figures,
    },
  }
}

/** The last age at which enough of both are watched, or why there is nothing to tell. */
function lastTold(
  { from, until, points }: Difference,
  unit: string,
): { last: Difference['points'][number] } | { cannot: string } {
  if (until === from) return { cannot: ': there is no age at which vehicles of both were watched.' }
  if (points.length === 0) return { cannot: ': neither has had it at an age at which both are watched.' }
  const last = points.findLast(point => Math.min(...point.at_risk) >= ENOUGH_WATCHED)
  if (last === undefined)
    return { cannot: `: at no age with a repair were ${countWord(ENOUGH_WATCHED)} vehicles of each still watched.` }
  if (last.se === 0)
    return { cannot: ` at ${whole(last.at)} ${unit}: all vehicles of each are alike, which says nothing of chance.` }
  return { last }
}

function inWords(
  { from }: Difference,
  last: Difference['points'][number],
  { one, other, unit }: { one: string; other: string; unit: string },
): string {
  const age = `${whole(last.at)} ${unit}`
  const span = from === 0 ? `By ${age}` : `From ${whole(from)} to ${age}`
  const [more, less] = last.difference >= 0 ? [one, other] : [other, one]
  const size = Math.abs(last.difference).toFixed(2)
  const limits = last.difference >= 0 ? [last.lower, last.upper] : [-last.upper, -last.lower]
  const range = limits.map(limit => limit.toFixed(2).replace('-', '−')).join(' to ')
  return limits[0]! > 0
    ? `${span} a vehicle of ${more} has had it ${size} times more than one of ${less} (${range}).`
    : `${span} the two cannot be told apart: ${size} times more on ${more} (${range}), which takes in no difference.`
}

function differenceTable(difference: Difference['points'], unit: string, query: RecurrenceQuery) {
  const shown = thinned(difference)
  const count =
    shown.length === difference.length ? counted(shown.length, 'age') : `${shown.length} of ${difference.length} ages`
  const figure = (value: number, places: number) => value.toFixed(places).replace('-', '−')
  return table({
    caption: words(`${count} (`, link(`/api/analysis/recurrence?${queryText(query)}`, 'all, as JSON'), ')'),
    columns: [
      column(unit === 'km' ? 'km' : 'Days', 'figure'),
      column('At risk', 'figure', 'of each'),
      column('Difference', 'figure'),
      column('Standard error', 'figure'),
      column('Limits', 'figure'),
    ],
    rows: shown.map(point => ({
      cells: [
        whole(point.at),
        point.at_risk.join(' and '),
        figure(point.difference, 3),
        figure(point.se, 3),
        `${figure(point.lower, 2)} to ${figure(point.upper, 2)}`,
      ],
    })),
  })
}

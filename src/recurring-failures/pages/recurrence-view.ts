import type { WellWatched } from '../../core/statistics/recurrence/well-watched.ts'
import { Z_95 } from '../../core/statistics/z95.ts'
import { counted, countWord } from '../../core/words.ts'
import { stepChart } from '../../platform/pages/figures/step-chart.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import type { Recurrence, RecurrenceQuery } from '../contract.ts'
import { ENOUGH_WATCHED } from '../rules/enough-watched.ts'
import type { RecurrenceSeen } from '../service/recurrence.ts'
import { failureName, queryText, whole } from './numbers.ts'

type Point = Recurrence['points'][number]

const MOST_ROWS = 60
/** More ticks than this would be a bar. */
const MOST_TICKS = 60

/** What recurs, in words. */
export function whatRecurs(query: RecurrenceQuery): string {
  const { component, failure_mode, operation } = query
  const what = operation ?? failureName(component ?? '', failure_mode ?? null)
  return [what, groupName(query)].filter(text => text !== '').join(', ')
}

/** The vehicles that are looked at: 'Corvane Haulette B, long'; empty for all of them. */
export function groupName({ family, variant }: { family?: string | undefined; variant?: string | undefined }): string {
  return [family, variant].filter(text => text !== undefined).join(', ')
}

/** Limits on the log scale, which never cross zero: M·exp(± z·se/M). None where all were alike, or only one was watched. */
export function onLogScale({ mcf, se }: Pick<Point, 'mcf' | 'se'>): { lower: number | null; upper: number | null } {
  if (se === 0) return { lower: null, upper: null }
  const factor = Math.exp((Z_95 * se) / mcf)
  return { lower: mcf / factor, upper: mcf * factor }
}

/** The curve with its numbers beside it. */
export function recurrenceFigure(
  { recurrence, ends, begins, compare_end, well }: RecurrenceSeen,
  query: RecurrenceQuery,
) {
  const { points, units, events, clock, compare } = recurrence
  const [unit, across] = clock === 'days' ? ['days', 'days in service'] : ['km', 'km driven']
  const end = Math.max(0, ...ends)
  const last = points.at(-1)
  const drawings = stepChart({
    id: 'recurrence',
    title: `${whatRecurs(query)}: repairs per vehicle by ${across}`,
    description: `Mean cumulative function for ${counted(units, 'vehicle')} and ${counted(events, 'repair')}. ${wellTold(well, { events, unit, end })}`,
    points: points.map(point => ({ at: point.at, events: point.events, mcf: point.mcf, ...onLogScale(point) })),
    last_seen: ends.length <= MOST_TICKS ? ends : [],
    end,
    well: {
      from: well?.from ?? 0,
      until: well?.until ?? 0,
      beyond: `thin: under ${countWord(ENOUGH_WATCHED)} watched`,
    },
    across,
    upwards: 'repairs per vehicle',
    ...(compare !== undefined && {
      compare: {
        label: groupName(compare),
        points: compare.points.map(({ at, events: count, mcf }) => ({
          at,
          events: count,
          mcf,
          lower: null,
          upper: null,
        })),
        end: compare_end ?? 0,
      },
    }),
  })
  return {
    drawings,
    caption: `Each dot is an age with a repair; a larger dot, more than one. Dashed: how far chance alone may have moved it (95 %). Thin, beyond the uprights: ages at which fewer than ${countWord(ENOUGH_WATCHED)} vehicles were watched.${notBefore(begins, units, unit)}${fewLeft(last, unit)} Method: mean cumulative function with the robust limits of Lawless and Nadeau, on the log scale.`,
    table: recurrenceTable(points, unit, query),
  }
}

/** What the curve says of the ages at which it rests on enough vehicles; elsewhere it says nothing that can be told. */
export function wellTold(
  well: WellWatched | null,
  { events, unit, end }: { events: number; unit: string; end: number },
): string {
  const enough = `${countWord(ENOUGH_WATCHED)} vehicles`
  if (events === 0) return 'None has had it so far.'
  if (well === null) return `Cannot tell how often a vehicle has it: at no age were ${enough} watched.`
  const { from, until, points } = well
  const span = from <= 0 ? `By ${whole(until)} ${unit}` : `From ${whole(from)} to ${whole(until)} ${unit}`
  const beyond = from <= 0 && until >= end ? '' : ` At other ages fewer than ${enough} were watched.`
  const last = points.at(-1)
  if (last === undefined) return `${span} no vehicle has had it.${beyond}`
  const { lower, upper } = onLogScale(last)
  const limits = lower === null || upper === null ? '' : ` (${lower.toFixed(2)} to ${upper.toFixed(2)})`
  return `${span} a vehicle has had it ${last.mcf.toFixed(2)} times on average${limits}.${beyond}`
}

/** Vehicles that are known only from some age on say nothing of what came before it. */
function notBefore(begins: number, units: number, unit: string): string {
  return units === 0 || begins <= 0
    ? ''
    : ` No vehicle was watched before ${whole(begins)} ${unit}: what came earlier is not in it.`
}

function fewLeft(last: Point | undefined, unit: string): string {
  return last === undefined
    ? ''
    : ` Only ${counted(last.at_risk, 'vehicle')} ${last.at_risk === 1 ? 'was' : 'were'} still watched at ${whole(last.at)} ${unit}.`
}

/** At most so many rows as can be read, the last one among them. */
export function thinned<Row>(rows: readonly Row[]): Row[] {
  const every = Math.ceil(rows.length / MOST_ROWS)
  return rows.filter((_, place) => every <= 1 || (rows.length - 1 - place) % every === 0)
}

function recurrenceTable(points: readonly Point[], unit: string, query: RecurrenceQuery) {
  const shown = thinned(points)
  const count =
    shown.length === points.length
      ? `${counted(points.length, 'age')} with a repair`
      : `${shown.length} of ${points.length} ages with a repair`
  return table({
    caption: words(`${count} (`, link(`/api/analysis/recurrence?${queryText(query)}`, 'all, as JSON'), ')'),
    columns: [
      column(unit === 'km' ? 'km' : 'Days', 'figure'),
      column('At risk', 'figure'),
      column('Repairs', 'figure'),
      column('Per vehicle', 'figure'),
      column('Standard error', 'figure'),
      column('Limits', 'figure'),
    ],
    rows: shown.map(point => {
      const { lower, upper } = onLogScale(point)
      return {
        cells: [
          whole(point.at),
          String(point.at_risk),
          String(point.events),
          point.mcf.toFixed(3),
          point.se.toFixed(3),
          lower === null || upper === null ? 'cannot tell' : `${lower.toFixed(2)} to ${upper.toFixed(2)}`,
        ],
      }
    }),
    empty: 'No such repair is recorded on a vehicle whose age is known.',
  })
}

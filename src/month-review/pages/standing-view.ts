import { shortDay } from '../../core/days.ts'
import { counted, countWord } from '../../core/words.ts'
import { intervalAxis, intervalRow, linearAxis } from '../../platform/pages/figures/interval-row.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { em, link, type Words, words } from '../../platform/pages/words.ts'
import type { MonthFigures, NewPair } from '../contract.ts'
import { countedFirst, type MoneyPen } from './words.ts'

const OPERATIONS_SHOWN = 4

/** Claims still to come under warranty; null while nothing can be foretold. */
export function claimsTable({ jobs, foretold }: MonthFigures['warranty'], money: MoneyPen | null): TableView | null {
  if (foretold === null) return null
  const { expected_claims, claims, operations } = foretold
  const axis = linearAxis(0, Math.max(4, Math.ceil(claims.p95 / 4) * 4), 4, 150)
  const range = `${claims.p05} to ${claims.p95}`
  const plot = intervalRow(axis, {
    ...{ id: 'claims', title: 'Claims still to come', height: 30 },
    description: `${expected_claims.toFixed(1)}, from ${range}`,
    ...{ estimate: expected_claims, lower: claims.p05, upper: claims.p95 },
  })
  const named = operations.filter(operation => operation.expected_claims >= 0.05).slice(0, OPERATIONS_SHOWN)
  const cost: Row = {
    grand: true,
    cells: ['Money', ...moneyCells(foretold, money)],
  }
  return table({
    columns: [
      column(`${counted(jobs, 'job')} under warranty`),
      column('Expected', 'figure'),
      column('90 % of the time', 'figure'),
      column('', 'plot'),
    ],
    rows: [
      { cells: ['Claims still to come', expected_claims.toFixed(1), range, { plot }] },
      ...named.map(({ operation, jobs, expected_claims }) => ({
        cells: [`${operation === '' ? 'Free-text tasks' : operation}, ${jobs} open`, expected_claims.toFixed(1)],
      })),
    ],
    foot: [
      { axis: true, cells: ['', '', '', { plot: intervalAxis(axis, 'claims-axis', 'Claims') }] },
      ...(money === null ? [] : [cost]),
    ],
  })
}

type Foretold = NonNullable<MonthFigures['warranty']['foretold']>

function moneyCells({ expected_claims, expected_cost_minor, cost_minor }: Foretold, money: MoneyPen | null): string[] {
  if (money === null) return []
  // claims without a single known cost: the sum of nothing is no forecast
  if (expected_claims > 0 && expected_cost_minor === 0 && cost_minor.p95 === 0) return ['cannot be told yet']
  return [money(expected_cost_minor), `${money(cost_minor.p05)} to ${money(cost_minor.p95)}`]
}

/** The warning, or null when no joint is in doubt. */
export function doubtWords({ joints, vehicles, severities }: MonthFigures['in_doubt']): string | null {
  if (joints === 0) return null
  const where = `${countedFirst(joints, 'bolted joint')} on ${countWord(vehicles)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}`
  const is = joints === 1 ? 'is' : 'are'
  return `${where} ${is} in doubt, ${countWord(severities.safety)} of them a matter of safety. Check each before it is trusted.`
}

/** Why, each with its joints by severity. */
export function doubtsTable({ causes }: MonthFigures['in_doubt']): TableView {
  return table({
    columns: [
      column('In doubt because of'),
      column('Safety', 'figure'),
      column('Breakdown', 'figure'),
      column('Nuisance', 'figure'),
      column('Vehicles', 'figure'),
    ],
    rows: causes.map(({ because, severities, vehicles }) => ({
      cells: [because, ...[severities.safety, severities.breakdown, severities.nuisance, vehicles].map(String)],
    })),
    empty: 'No bolted joint is in doubt.',
  })
}

export function dueTable(due: MonthFigures['calibrations_due']): TableView {
  return table({
    columns: [column('Wrench'), column('Calibration due', 'date')],
    rows: due.map(({ wrench_id, name, due_on, overdue }) => ({
      cells: [
        words(link(`/tools/wrenches/${encodeURIComponent(wrench_id)}`, name)),
        overdue ? words(`${shortDay(due_on)}, `, { text: 'overdue', strong: true }) : shortDay(due_on),
      ],
    })),
    empty: 'No calibration is due within the next 31 days.',
  })
}

export function leftWords(left: MonthFigures['left_for_later'], money: MoneyPen | null): string {
  if (left.count === 0) return 'Nothing that was advised stands open.'
  const { count, vehicles, safety, amount_minor, not_priced } = left
  const priced = money === null || not_priced === count ? '' : `, priced at ${money(amount_minor)} in all`
  const rest = not_priced === 0 ? '' : `, ${not_priced} without a price`
  const where = `${countedFirst(count, 'piece')} of advised work on ${countWord(vehicles)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}`
  const first = `${where} ${count === 1 ? 'is' : 'are'} left for later${priced}${rest}.`
  return safety === 0
    ? first
    : `${first} Of these ${countWord(safety)} ${safety === 1 ? 'concerns' : 'concern'} safety: ask again at every visit.`
}

const SAYS = { often: 'often followed by', may: 'may be followed by' } as const

/** What is new in what follows what, each pair with the few cases it rests on; null when nothing is. */
export function pairsTable({ news }: MonthFigures['pairs'], asOf: string): TableView | null {
  if (news.length === 0) return null
  return table({
    columns: [
      column('Earlier work, later failure'),
      column('Failures after it', 'figure'),
      column('Without it', 'figure'),
      column('Times as often, 95 %', 'figure'),
    ],
    rows: news.map(pair => ({
      cells: [
        { text: pairWords(pair, asOf), notes: pair.said === 'may' ? ['until now: may be'] : [] },
        String(pair.failures_after),
        String(pair.failures_without),
        ratioWords(pair),
      ],
    })),
  })
}

function pairWords({ operation, component, failure_mode, says }: NewPair, asOf: string): Words {
  const failure = failure_mode === null ? component : `${component}, ${failure_mode}`
  const query = new URLSearchParams({ operation, component, as_of: asOf, any_time: 'true' })
  if (failure_mode !== null) query.set('failure_mode', failure_mode)
  return words(link(`/recurring/pair?${query}`, operation), ' ', em(SAYS[says]), ` ${failure}`)
}

function ratioWords({ rate_ratio, lower, upper }: NewPair): string {
  const limits = lower === null ? '' : ` (${lower.toFixed(1)} to ${upper === null ? 'no limit' : upper.toFixed(1)})`
  return `${rate_ratio === null ? 'never without it' : rate_ratio.toFixed(1)}${limits}`
}

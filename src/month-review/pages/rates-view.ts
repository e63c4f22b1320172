import type { ComebackRateGroup } from '../../comebacks/index.ts'
import type { Drawing } from '../../platform/pages/figures/drawing.ts'
import { monthChart } from '../../platform/pages/figures/month-chart.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import type { MonthFigures } from '../contract.ts'
import { monthName, percent, shortMonth, shortMonthAndYear } from './words.ts'

type Rates = MonthFigures['rates']

/** Comebacks of jobs as the chart names them: a month whose jobs are all still in their window shows what came back so far. */
function soFar({ jobs, comebacks, still_open }: ComebackRateGroup): { count: number; of: number } {
  return jobs > 0 ? { count: comebacks, of: jobs } : { count: still_open.comebacks, of: still_open.jobs }
}

export function ratesChart({ months, year }: Rates): Drawing[] {
  const [first, last] = [months.at(0)!.key, months.at(-1)!.key]
  return monthChart({
    id: 'rates',
    title: `Comebacks per job handed back, ${monthName(first)} to ${monthName(last)}`,
    description: `${monthWords(months.at(-1)!)} ${yearWords(year)} ${signalWords(months)}`,
    year: year.rate,
    months: months.map(month => ({
      label: shortMonth(month.key),
      ...soFar(month),
      ...{ rate: month.rate, lower: month.lower, upper: month.upper, signal: month.limit_upper },
    })),
  })
}

function monthWords({ key, jobs, comebacks, still_open }: ComebackRateGroup): string {
  const open = still_open.jobs === 0 ? '' : `, and ${still_open.comebacks} of ${still_open.jobs} still in their window`
  return `${monthName(key)}: ${comebacks} of ${jobs} jobs that are through their window${open}.`
}

function yearWords({ jobs, comebacks, rate, lower, upper }: Rates['year']): string {
  if (rate === null) return 'No job handed back in the twelve months before is through its window.'
  const limits = `95 % interval ${percent(lower)} to ${percent(upper)} %`
  return `Of the jobs handed back in the twelve months before that are through their window, ${comebacks} of ${jobs} came back: ${percent(rate)} %, ${limits}.`
}

function signalWords(months: readonly ComebackRateGroup[]): string {
  const signals = months.filter(({ rate, limit_upper }) => rate !== null && limit_upper !== null && rate >= limit_upper)
  if (signals.length === 0) return 'No month reaches the signal limit.'
  return `At or above the signal limit: ${signals.map(({ key }) => monthName(key)).join(', ')}.`
}

/** What the chart means, with the year in words, since one line of it stands for many cases. */
export function ratesCaption(rates: Rates): string {
  const marks =
    'Tick: the month. Thin upright: its 95 % interval (Wilson). Dashed: a signal, less than 1.35 in 1 000 by chance at the rate of the twelve months before. Under each month: comebacks of jobs.'
  const open = rates.months.some(month => month.jobs === 0 && month.still_open.jobs > 0)
    ? ' A month without a tick has only jobs that are still in their window: its count can still rise.'
    : ''
  return `${marks}${open} ${yearWords(rates.year)}`
}

/** Thirteen months, the newest first. */
export function ratesTable({ months }: Rates): TableView {
  return table({
    stacks: false,
    columns: [
      column('Handed back'),
      column('Came back', 'figure'),
      column('Rate, 95 %', 'figure'),
      column('Signal', 'figure'),
      column('Still open', 'figure'),
    ],
    rows: months.toReversed().map(({ key, jobs, comebacks, rate, lower, upper, limit_upper, still_open }) => ({
      cells: [
        shortMonthAndYear(key),
        jobs === 0 ? '–' : `${comebacks} of ${jobs}`,
        rate === null ? '–' : `${percent(rate)} % (${percent(lower)} to ${percent(upper)})`,
        limit_upper === null ? '–' : `${percent(limit_upper)} %`,
        still_open.jobs === 0 ? '–' : `${still_open.comebacks} of ${still_open.jobs}`,
      ],
    })),
  })
}

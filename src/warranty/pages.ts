import { z } from 'zod'
import { longDay, shortDay } from '../core/days.ts'
import { formatMinor } from '../core/money.ts'
import { distanceInWords } from '../core/words.ts'
import type { Context } from '../platform/context.ts'
import type { Habits } from '../platform/forms/decode.ts'
import { pageRead } from '../platform/http/page-route.ts'
import type { Pages } from '../platform/http/pages.ts'
import { backTestChart } from '../platform/pages/figures/back-test-chart.ts'
import { intervalAxis, intervalRow, linearAxis } from '../platform/pages/figures/interval-row.ts'
import { column, table } from '../platform/pages/table.ts'
import { link, ref, telephone, type Words, words } from '../platform/pages/words.ts'
import { analysedSoon } from '../platform/workers/analysed.ts'
import { customerById, vehicleById } from '../vehicles/index.ts'
import { type Backtest, type WarrantyExposure, WarrantyExposureQuery } from './contract.ts'
import { warrantyBacktest } from './service/backtest.ts'
import { warrantyExposures } from './service/exposure.ts'
import { mostAtRisk, type PromiseTold, promises } from './service/promises.ts'

/** More are rarely looked at. */
const SHOWN = 25

const Query = WarrantyExposureQuery.extend({ all: z.boolean().optional() })

export function warrantyPages(pages: Pages): void {
  pageRead(pages, {
    url: '/warranty',
    query: Query,
    async handle(ctx, { query: { all, ...query } }) {
      const exposure = await analysedSoon(ctx, 'warranty-exposure', query, warrantyExposures)
      const backtest = await analysedSoon(ctx, 'warranty-backtest', query, warrantyBacktest)
      const open = await analysedSoon(ctx, 'warranty-promises', query, promises)
      const shown = all === true ? open : open.slice(0, SHOWN)
      const habits = pages.habits()
      return {
        template: 'warranty/warranty',
        sheet: {
          title: 'What may still come back',
          sheet_number: `${exposure.jobs} jobs under warranty`,
          subject: 'Our promises on jobs that were handed back and have not come back',
          dates: `as known on ${longDay(exposure.as_of)}`,
          nav: 'months',
        },
        view: {
          headline: headline(exposure, habits),
          risky: riskyTable(ctx, mostAtRisk(open), habits),
          promises: promisesTable(shown),
          more:
            shown.length === open.length
              ? null
              : { text: `The first ${shown.length} of ${open.length}.`, href: `/warranty?${allQuery(query)}` },
          claims: claimsTable(exposure, habits),
          operations: operationsTable(exposure, habits),
          backtest: backtest.cutoffs.length === 0 ? null : backtestFigure(backtest),
        },
      }
    },
  })
}

function allQuery({ as_of }: WarrantyExposureQuery): string {
  return new URLSearchParams({ all: 'true', ...(as_of !== undefined && { as_of }) }).toString()
}

function promisesTable(told: readonly PromiseTold[]) {
  return table({
    columns: [
      column('Ends about', 'date'),
      column('Vehicle'),
      column('Our work'),
      column('Until', 'date'),
      column('or until', 'figure'),
    ],
    rows: told.map(({ vehicle_id, vehicle, family, task, until_on, until_km, ends_on, ...row }) => ({
      cells: [
        shortDay(ends_on),
        { text: words(link(`/vehicles/${encodeURIComponent(vehicle_id)}`, vehicle)), notes: [family] },
        { text: task, notes: [doneOn(row)] },
        shortDay(until_on),
        until_km === null ? 'no limit' : distanceInWords(until_km, row.odometer_unit),
      ],
    })),
    empty: 'No promise of ours runs now.',
  })
}

/** Whom to call first: the chance is that of all such jobs of the shop, not of this vehicle. */
function riskyTable(ctx: Context, told: readonly PromiseTold[], { currency, locale }: Habits) {
  if (told.length === 0) return null
  return table({
    columns: [
      column('Vehicle'),
      column('Our work'),
      column('Chance', 'figure'),
      column('A claim costs', 'figure'),
      column('Ends about', 'date'),
      column('To call'),
    ],
    rows: told.map(({ vehicle_id, vehicle, family, task, chance, mean_cost_minor, ends_on, ...row }) => ({
      cells: [
        { text: words(link(`/vehicles/${encodeURIComponent(vehicle_id)}`, vehicle)), notes: [family] },
        { text: task, notes: [doneOn(row)] },
        chanceWords(chance),
        formatMinor(mean_cost_minor, currency, locale),
        shortDay(ends_on),
        keeperWords(ctx, vehicle_id),
      ],
    })),
  })
}

function chanceWords(chance: number): string {
  return chance < 0.01 ? 'under 1 %' : `${Math.round(chance * 100)} %`
}

function keeperWords(ctx: Context, vehicleId: string): Words {
  const { keeper_id } = vehicleById(ctx, vehicleId)
  if (keeper_id === undefined) return 'nobody is known to keep it'
  const { id, name, phone } = customerById(ctx, keeper_id)
  return words(link(`/customers/${id}`, name), ...(phone === undefined ? [] : [', ', link(telephone(phone), phone)]))
}

function doneOn(told: Pick<PromiseTold, 'order_id' | 'order_number' | 'handed_back_on'>): Words {
  const day = shortDay(told.handed_back_on)
  if (told.order_id === null || told.order_number === null) return `imported history, ${day}`
  return words('Order ', link(`/work-orders/${told.order_id}`, ref(told.order_number)), `, ${day}`)
}

function headline(
  { jobs, expected_claims, claims, expected_cost_minor, cost_minor }: WarrantyExposure,
  { currency, locale }: Habits,
): string {
  if (jobs === 0) return 'No job is under warranty.'
  const under = jobs === 1 ? 'One job is' : `${jobs} jobs are`
  const money = (amount: number) => formatMinor(amount, currency, locale)
  const cost =
    expected_cost_minor === 0
      ? ''
      : ` On average of all that may happen they cost ${money(expected_cost_minor)}; in nine cases of ten ${money(cost_minor.p05)} to ${money(cost_minor.p95)}.`
  return `${under} under warranty. About ${expected_claims.toFixed(1)} claims are still to come, ${claims.p05} to ${claims.p95} in nine cases of ten.${cost}`
}

function claimsTable(
  { expected_claims, claims, expected_cost_minor, cost_minor }: WarrantyExposure,
  { currency, locale }: Habits,
) {
  const money = (amount: number) => formatMinor(amount, currency, locale)
  const axis = linearAxis(0, Math.max(4, Math.ceil(claims.p95 / 4) * 4), 4, 220)
  return table({
    columns: [
      column('Still to come'),
      column('Expected', 'figure'),
      column('90 % of the time', 'figure'),
      column('', 'plot'),
    ],
    rows: [
      {
        cells: [
          'Claims',
          expected_claims.toFixed(1),
          `${claims.p05} to ${claims.p95}`,
          {
            plot: intervalRow(axis, {
              id: 'claims',
              title: 'Claims',
              description: `${expected_claims.toFixed(1)}, from ${claims.p05} to ${claims.p95}`,
              estimate: expected_claims,
              lower: claims.p05,
              upper: claims.p95,
            }),
          },
        ],
      },
    ],
    foot: [
      { axis: true, cells: ['', '', '', { plot: intervalAxis(axis, 'claims-axis', 'Claims') }] },
      {
        grand: true,
        cells: ['Money', money(expected_cost_minor), `${money(cost_minor.p05)} to ${money(cost_minor.p95)}`],
      },
    ],
  })
}

function operationsTable({ operations }: WarrantyExposure, { currency, locale }: Habits) {
  return table({
    columns: [
      column('Operation'),
      column('Open', 'figure', 'jobs'),
      column('Came back', 'figure', 'expected of all its jobs'),
      column('Times as often', 'figure', 'drawn to the shop’s'),
      column('Claims to come', 'figure'),
      column('Cost to come', 'figure'),
    ],
    rows: operations.map(row => ({
      cells: [
        row.operation === '' ? 'no operation' : row.operation,
        String(row.jobs),
        { text: String(row.observed), notes: [row.expected.toFixed(1)] },
        row.multiplier.toFixed(2),
        row.expected_claims.toFixed(1),
        formatMinor(row.expected_cost_minor, currency, locale),
      ],
    })),
    empty: 'No job has been handed back under a warranty.',
  })
}

/** "Oct 31": the month and the year's last digits, as there is little room beneath a drawing. */
function shortMonthOf(day: string): string {
  const [, month = '', year = ''] = shortDay(day).split(' ')
  return `${month} ${year.slice(2)}`
}

/** Rings inside their lines may still all lie on one side: the sums show it. */
function backtestWords(cutoffs: Backtest['cutoffs']): string {
  const foretold = cutoffs.reduce((sum, { predicted }) => sum + predicted, 0)
  const happened = cutoffs.reduce((sum, { actual }) => sum + actual, 0)
  return `Added up, ${foretold.toFixed(1)} were foretold and ${happened} happened; the spans overlap, so one claim counts in each that it falls into.`
}

/** Twelve lines and rings: what was foretold at each month-end, and what happened. */
function backtestFigure({ cutoffs, horizon_days, coverage }: Backtest) {
  const inside = cutoffs.filter(({ p05, p95, actual }) => p05 <= actual && actual <= p95).length
  return {
    drawings: backTestChart({
      id: 'backtest',
      title: `Claims foretold and what happened, ${cutoffs.length} month-ends`,
      description: `Each line is the 90 per cent interval for the next ${horizon_days} days, the tick its middle, the ring what happened. ${inside} of ${cutoffs.length} rings lie within.`,
      months: cutoffs.map(({ as_of, predicted, p05, p95, actual }) => ({
        label: shortMonthOf(as_of),
        expected: predicted,
        lower: p05,
        upper: p95,
        happened: actual,
      })),
    }),
    caption: `Claims foretold for ${horizon_days} days at each month-end, ring: what happened. ${inside} of ${cutoffs.length} inside${coverage === null ? '' : ` (${Math.round(coverage * 100)} %)`}. ${backtestWords(cutoffs)}`,
    table: table({
      stacks: false,
      columns: [
        column('Month-end', 'date'),
        column('Foretold', 'figure'),
        column('90 %', 'figure'),
        column('Happened', 'figure'),
      ],
      rows: cutoffs.map(({ as_of, predicted, p05, p95, actual }) => ({
        cells: [shortDay(as_of), predicted.toFixed(1), `${p05} to ${p95}`, String(actual)],
      })),
    }),
  }
}

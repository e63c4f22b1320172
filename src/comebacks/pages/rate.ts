import { longDay } from '../../core/days.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { intervalAxis, intervalRow, linearAxis } from '../../platform/pages/figures/interval-row.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import { analysedSoon } from '../../platform/workers/analysed.ts'
import { type ComebackRateGroup, ComebackRateQuery } from '../contract.ts'
import { comebackRates } from '../service/comeback-rate.ts'
import { category } from './words.ts'

const NONE = { month: '', operation: 'no operation', cause: 'no cause stated', supplier: '', family: '' } as const
const HEADINGS = {
  month: 'Month',
  operation: 'Operation',
  cause: 'Cause',
  supplier: 'Supplier',
  family: 'Family',
} as const

export function ratePage(pages: Pages): void {
  const shape = shapeOf(ComebackRateQuery)
  pageRead(pages, {
    url: '/comebacks/rate',
    query: ComebackRateQuery,
    refused: (_ctx, { form }) => ({
      template: 'comebacks/rate',
      sheet: { title: 'Comebacks per job', nav: 'comebacks' },
      view: { rates: null, fields: form.fields() },
    }),
    async handle(ctx, { query }) {
      const habits = pages.habits()
      const by = query.by ?? 'month'
      const { groups, as_of } = await analysedSoon(ctx, 'comeback-rate', query, comebackRates)
      const name = (key: string) => (key === '' ? NONE[by] : by === 'cause' ? category(key) : key)
      return {
        template: 'comebacks/rate',
        sheet: {
          title: 'Comebacks per job',
          sheet_number: total(groups, by),
          subject: 'Of the jobs handed back, how many came back within their window',
          dates: `to ${longDay(as_of)}`,
          nav: 'comebacks',
        },
        view: {
          rates: ratesTable(groups, HEADINGS[by], name),
          fields: describe(shape, { typed: encode({ by: 'month', ...query }, shape, habits), errors: {}, habits }),
        },
      }
    },
  })
}

/** Over all groups, where each job stands in one of them only. */
function total(groups: readonly ComebackRateGroup[], by: keyof typeof HEADINGS): string {
  if (by === 'supplier' || by === 'cause') return `${groups.length} ${by === 'cause' ? 'causes' : 'suppliers'}`
  const sum = (which: 'jobs' | 'comebacks') => groups.reduce((all, group) => all + group[which], 0)
  return `${sum('comebacks')} of ${sum('jobs')} jobs`
}

function ratesTable(groups: readonly ComebackRateGroup[], heading: string, name: (key: string) => string) {
  const highest = Math.max(0.1, ...groups.map(group => Math.max(group.upper ?? 0, group.limit_upper ?? 0)))
  const to = Math.min(100, Math.ceil(highest * 10) * 10)
  const axis = linearAxis(0, to, to <= 20 ? 4 : 5, 220, ' %')
  return table({
    columns: [
      column(heading),
      column('Came back', 'figure', 'of jobs'),
      column('Rate', 'figure', '95 %'),
      column('', 'plot'),
      column('Signal', 'figure', 'from here'),
      column('Still open', 'figure', 'came back of jobs'),
    ],
    rows: groups.map((group, place): Row => {
      const { jobs, comebacks, rate, lower, upper, limit_upper, still_open } = group
      const limits = `${percent(lower)} to ${percent(upper)}`
      return {
        cells: [
          name(group.key),
          `${comebacks} of ${jobs}`,
          { text: rate === null ? '–' : `${percent(rate)} %`, notes: rate === null ? [] : [limits] },
          rate === null || lower === null || upper === null
            ? ''
            : {
                plot: intervalRow(axis, {
                  id: `rate-${place}`,
                  title: `Comebacks per job: ${name(group.key)}`,
                  description: `${percent(rate)} per cent, interval ${limits}`,
                  estimate: rate * 100,
                  lower: lower * 100,
                  upper: upper * 100,
                }),
              },
          limit_upper === null ? '–' : `${percent(limit_upper)} %`,
          still_open.jobs === 0 ? '–' : `${still_open.comebacks} of ${still_open.jobs}`,
        ],
      }
    }),
    foot: [{ axis: true, cells: ['', '', '', { plot: intervalAxis(axis, 'rate-axis', 'Per cent of the jobs') }] }],
    empty: 'No job was handed back in this time.',
  })
}

function percent(share: number | null): string {
  return share === null ? '–' : (share * 100).toFixed(1)
}

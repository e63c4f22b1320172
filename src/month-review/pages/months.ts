import { counted } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import { type MonthInList, monthsReviewed } from '../service/month-review.ts'
import { type MoneyPen, moneyPenFor, monthName } from './words.ts'

/** Every month with a job of ours, newest first. */
export function monthsPage(pages: Pages): void {
  pageRead(pages, {
    url: '/months',
    handle(ctx) {
      const months = monthsReviewed(ctx)
      return {
        template: 'month-review/months',
        sheet: {
          title: 'Months',
          sheet_number: counted(months.length, 'month'),
          subject: 'What was handed back in each month, and what came back in it',
          nav: 'months',
        },
        view: { months: monthsTable(months, moneyPenFor(ctx.actor, pages.habits())) },
      }
    },
  })
}

function monthsTable(months: readonly MonthInList[], money: MoneyPen | null): TableView {
  return table({
    columns: [
      column('Month'),
      column('Jobs', 'figure'),
      column('Vehicles', 'figure'),
      column('Came back', 'figure'),
      column('To decide', 'figure'),
      ...(money === null ? [] : [column('Charged, net', 'figure'), column('Borne by us', 'figure')]),
    ],
    rows: months.map(({ month, jobs, vehicles, came_back, waiting, is_issued, net_minor, borne_minor }) => ({
      signed: is_issued,
      cells: [
        { text: words(link(`/months/${month}`, monthName(month))), notes: is_issued ? ['issued'] : [] },
        ...[jobs, vehicles, came_back, waiting].map(String),
        ...(money === null
          ? []
          : [net_minor, borne_minor].map(amount => (amount === null ? 'cannot tell' : money(amount)))),
      ],
    })),
    empty: 'No job has been handed back yet.',
  })
}

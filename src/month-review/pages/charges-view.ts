import { counted } from '../../core/words.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import type { MonthFigures } from '../contract.ts'
import type { MoneyPen } from './words.ts'

/** Net, tax per rate and gross of the month's invoices, and what we bore of them. */
export function chargesTable({ charges, imported_jobs }: MonthFigures, money: MoneyPen): TableView {
  const { invoices, net_minor, tax, gross_minor, borne_minor } = charges
  const write = (amount: number | null) => (amount === null ? 'cannot tell' : money(amount))
  const rows: Row[] = [
    { cells: ['Net', write(net_minor)] },
    ...tax.map(({ tax_bp, net_minor, tax_minor }) => ({
      cells: [`Tax ${tax_bp / 100} % on ${money(net_minor)}`, money(tax_minor)],
    })),
  ]
  return table({
    stacks: false,
    columns: [column(counted(invoices, 'invoice')), column('Charged', 'figure')],
    rows,
    foot: [
      { cells: ['Borne by us, tax included, not in these', write(borne_minor)] },
      ...(imported_jobs === 0
        ? []
        : [{ cells: [`${counted(imported_jobs, 'imported job')} without an invoice`, '–'] }]),
      { grand: true, cells: ['With tax', write(gross_minor)] },
    ],
  })
}

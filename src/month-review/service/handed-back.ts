import { sumDecimals } from '../../core/decimal.ts'
import { sumMinor, type TaxOfRate } from '../../core/money.ts'
import type { Context } from '../../platform/context.ts'
import { labourOfPlan, planOfOrder } from '../../work-orders/index.ts'
import type { MonthCharges, MonthFigures } from '../contract.ts'
import { type HandedBackRow, handBacksIn, importedJobsIn } from '../queries/handed-back.ts'
import type { MonthSpan } from './span.ts'

type HandedBack = Pick<
  MonthFigures,
  'jobs' | 'imported_jobs' | 'vehicles' | 'book_hours' | 'jobs_without_hours' | 'charges'
>

/** What the list of months says of one of them. */
type Counted = Pick<HandedBack, 'jobs' | 'imported_jobs' | 'vehicles' | 'charges'>

/** How much was handed back in the month, and what was charged for it. */
export function countHandedBack(ctx: Context, span: MonthSpan): Counted {
  const { left, imported } = rowsOf(ctx, span)
  return countedOf(left, imported)
}

/** The same, with the hours. */
export function handedBackIn(ctx: Context, span: MonthSpan): HandedBack {
  const { left, imported } = rowsOf(ctx, span)
  const hours = [
    ...left.map(row => labourOfPlan(planOfOrder(ctx, row.order_id)).hours_together),
    ...imported.flatMap(row => row.hours ?? []),
  ]
  return {
    ...countedOf(left, imported),
    book_hours: imported.length > 0 && hours.length === 0 ? null : sumDecimals(hours),
    jobs_without_hours: imported.filter(row => row.hours === null).length,
  }
}

function rowsOf(ctx: Context, { first, last, as_known_on, before }: MonthSpan) {
  const days = { first, last: earlier(last, as_known_on), before }
  return { left: handBacksIn(ctx.read, days), imported: importedJobsIn(ctx.read, days) }
}

type Rows = ReturnType<typeof rowsOf>

function countedOf(left: Rows['left'], imported: Rows['imported']): Counted {
  return {
    jobs: left.reduce((sum, row) => sum + row.jobs, 0) + imported.length,
    imported_jobs: imported.length,
    vehicles: new Set([...left, ...imported].map(row => row.vehicle_id)).size,
    charges: chargesOf(left, imported.length > 0),
  }
}

function earlier(one: string, other: string): string {
  return one < other ? one : other
}

/** Sums of the invoices. With imported jobs alone nobody can tell what was charged. */
function chargesOf(left: readonly HandedBackRow[], hasImported: boolean): MonthCharges {
  if (left.length === 0 && hasImported) {
    return { invoices: 0, net_minor: null, tax: [], gross_minor: null, borne_minor: null }
  }
  return {
    invoices: left.length,
    net_minor: sumMinor(left.map(row => row.net_minor)),
    tax: taxTogether(left.flatMap(row => row.tax)),
    gross_minor: sumMinor(left.map(row => row.gross_minor)),
    borne_minor: sumMinor(left.map(row => row.borne_minor)),
  }
}

/** The tax as it was invoiced, added up a rate: worked out anew on the sums it would come out otherwise. */
function taxTogether(taxes: readonly TaxOfRate[]): TaxOfRate[] {
  const rates = [...new Set(taxes.map(tax => tax.tax_bp))].sort((a, b) => a - b)
  return rates.map(tax_bp => {
    const own = taxes.filter(tax => tax.tax_bp === tax_bp)
    return {
      tax_bp,
      net_minor: sumMinor(own.map(tax => tax.net_minor)),
      tax_minor: sumMinor(own.map(tax => tax.tax_minor)),
    }
  })
}

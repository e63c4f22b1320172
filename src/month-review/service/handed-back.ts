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

/** What was handed back in the month, and what was charged for it. */
export function handedBackIn(ctx: Context, span: MonthSpan): HandedBack {
  const days = { first: span.first, last: earlier(span.last, span.as_known_on), before: span.before }
  const left = handBacksIn(ctx.read, days)
  const imported = importedJobsIn(ctx.read, days)
  const ownJobs = left.reduce((sum, row) => sum + row.jobs, 0)
  const hours = [
    ...left.map(row => labourOfPlan(planOfOrder(ctx, row.order_id)).hours_together),
    ...imported.flatMap(row => row.hours ?? []),
  ]
  return {
    jobs: ownJobs + imported.length,
    imported_jobs: imported.length,
    vehicles: new Set([...left, ...imported].map(row => row.vehicle_id)).size,
    book_hours: imported.length > 0 && hours.length === 0 ? null : sumDecimals(hours),
    jobs_without_hours: imported.filter(row => row.hours === null).length,
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

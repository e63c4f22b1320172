import { shareMinor, sumMinor, type TaxOfRate, taxPerRate, timesMinor } from './money.ts'

/** A line of an estimate or invoice. `unit_minor` is the price of one, before tax; `tax_bp` the rate in basis points. */
export interface ChargeLine {
  quantity: number
  unit_minor: number
  tax_bp: number
}

/** `line_minor` are the lines before the discount; everything else is after it. */
export interface Charges {
  line_minor: number[]
  discount_minor: number
  net_minor: number
  tax: TaxOfRate[]
  gross_minor: number
}

/**
 * The totals of an estimate, invoice or credit note, in minor units. A line is rounded once, half away from zero; tax is
 * reckoned per rate on the sum of its lines. A discount is split over the rates in proportion to those sums by largest
 * remainder, so that the nets still add up to the unit.
 *
 * @throws RangeError when an amount is not whole, or the discount is below zero or more than the lines above zero add up to.
 */
export function charges(lines: readonly ChargeLine[], discountMinor = 0): Charges {
  const lineMinor = lines.map(line => timesMinor(line.quantity, line.unit_minor))
  const before = taxPerRate(lines.map((line, index) => ({ net_minor: lineMinor[index]!, tax_bp: line.tax_bp })))
  const weights = before.map(rate => Math.max(0, rate.net_minor))
  if (discountMinor < 0) throw new RangeError('charges requires a discount of zero or more')
  if (discountMinor > sumMinor(weights))
    throw new RangeError('charges requires a discount of at most what the lines add up to')
  const cuts = shareMinor(discountMinor, weights)
  const tax = taxPerRate(
    before.map((rate, index) => ({ tax_bp: rate.tax_bp, net_minor: rate.net_minor - cuts[index]! })),
  )
  const netMinor = sumMinor(tax.map(rate => rate.net_minor))
  return {
    line_minor: lineMinor,
    discount_minor: discountMinor,
    net_minor: netMinor,
    tax,
    gross_minor: sumMinor([netMinor, ...tax.map(rate => rate.tax_minor)]),
  }
}

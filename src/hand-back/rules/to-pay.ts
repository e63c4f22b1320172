import { shareMinor, sumMinor, type TaxOfRate, timesMinor } from '../../core/money.ts'
import type { Blocker } from './blockers.ts'

export interface Totals {
  net_minor: number
  tax: TaxOfRate[]
  gross_minor: number
}

/**
 * What is left to pay when we bear a part of a total, tax included. The part is split over the tax rates in proportion to
 * their sums with tax, by largest remainder; each rate's net is worked back from what is left of it, rounded once, and its
 * tax is the rest, so that net and tax add up to the unit.
 *
 * @throws RangeError when more is borne than there is to pay.
 */
export function afterBearing(totals: Totals, borneMinor: number): Totals {
  if (borneMinor > totals.gross_minor) throw new RangeError('afterBearing requires a share of at most the total')
  const gross = totals.tax.map(rate => sumMinor([rate.net_minor, rate.tax_minor]))
  const borne = shareMinor(borneMinor, gross)
  const tax = totals.tax.map(({ tax_bp }, index) => {
    const left = gross[index]! - borne[index]!
    const net_minor = timesMinor(10_000, left, 10_000 + tax_bp)
    return { tax_bp, net_minor, tax_minor: left - net_minor }
  })
  return {
    net_minor: sumMinor(tax.map(rate => rate.net_minor)),
    tax: borneMinor === 0 ? totals.tax : tax,
    gross_minor: totals.gross_minor - borneMinor,
  }
}

export interface MoneyFacts {
  order_id: string
  total_minor: number
  agreed_minor: number
  has_yes: boolean
  borne_minor: number
}

/** What of the money keeps a vehicle from being handed back: nobody said yes, or the total has passed the yes and what we bear. */
export function moneyBlockers(facts: MoneyFacts, write: (amountMinor: number) => string): Blocker[] {
  const toPay = facts.total_minor - facts.borne_minor
  const href = `/work-orders/${facts.order_id}`
  if (toPay <= 0) return []
  if (!facts.has_yes) {
    return [
      { reason: 'no_yes', sentence: `Nobody has said yes to ${write(toPay)} yet: ask, and record the yes.`, href },
    ]
  }
  if (toPay <= facts.agreed_minor) return []
  const above = write(toPay - facts.agreed_minor)
  const sentence = `${write(toPay)} to pay is ${above} above the ${write(facts.agreed_minor)} agreed: ask again, or say what we bear.`
  return [{ reason: 'above_agreed', sentence, href }]
}

import { sumMinor, timesMinor } from '../money.ts'

/** A part on offer: its price and the chance, from 0 to 1, that it fails within the term. */
export interface PartOnOffer {
  price_minor: number
  chance_of_failure: number
}

/** Money in minor units. At `tie_price_minor` for the used part both cost the same; the discount is from the new one's price. */
export interface NewOrUsed {
  expected_new_minor: number
  expected_used_minor: number
  tie_price_minor: number
  tie_discount_minor: number
}

/**
 * What a part really costs: price + P(it fails in the term) × what putting that right costs later, labour included; and how
 * much cheaper a used part must be to make up for failing more often. Each sum is rounded once, half away from zero.
 *
 * @throws RangeError when a price is below zero or not whole, or a chance is not from zero to one.
 */
export function newOrUsed(fresh: PartOnOffer, used: PartOnOffer, costLaterMinor: number): NewOrUsed {
  for (const { price_minor, chance_of_failure } of [fresh, used]) {
    if (!(price_minor >= 0 && costLaterMinor >= 0)) throw new RangeError('newOrUsed requires prices of zero or more')
    if (!(chance_of_failure >= 0 && chance_of_failure <= 1))
      throw new RangeError('newOrUsed requires chances from zero to one')
  }
  const expected = ({ price_minor, chance_of_failure }: PartOnOffer) =>
    sumMinor([price_minor, timesMinor(chance_of_failure, costLaterMinor)])
  const discount = sumMinor([expected({ ...used, price_minor: 0 }), -expected({ ...fresh, price_minor: 0 })])
  return {
    expected_new_minor: expected(fresh),
    expected_used_minor: expected(used),
    tie_price_minor: sumMinor([fresh.price_minor, -discount]),
    tie_discount_minor: discount,
  }
}

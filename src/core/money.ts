import { decimal } from './decimal.ts'
import { numberFormat } from './number-formats.ts'

/** Money is a safe integer of minor units (cents, pence); one currency a workshop, so no amount carries its own. */

/** The sum of the lines of one tax rate, and the tax on it. `tax_bp` is in basis points: 2000 is 20 %. */
export interface TaxOfRate {
  tax_bp: number
  net_minor: number
  tax_minor: number
}

function safe(amount: bigint, caller: string): number {
  const result = Number(amount)
  if (!Number.isSafeInteger(result)) throw new RangeError(`${caller} requires a result within the safe integers`)
  return result
}

function minor(amount: number, caller: string): bigint {
  if (!Number.isSafeInteger(amount)) throw new RangeError(`${caller} requires amounts in whole minor units`)
  return BigInt(amount)
}

/** Whole amounts added. @throws RangeError when one is not whole or the sum is no safe integer. */
export function sumMinor(amounts: readonly number[]): number {
  return safe(
    amounts.reduce((sum, amount) => sum + minor(amount, 'sumMinor'), 0n),
    'sumMinor',
  )
}

/**
 * `quantity` · `unitMinor` / `per`, rounded once, half away from zero. The quantity is taken as the decimal it was typed
 * as, so 1.005 times 100 is 101 and not 100. `per` serves rates: basis points with 10 000, minutes at a rate an hour with 60.
 *
 * @throws RangeError when an amount is not whole, `per` is not above zero, or the result is no safe integer.
 */
export function timesMinor(quantity: number, unitMinor: number, per = 1): number {
  if (!Number.isSafeInteger(per) || per < 1) throw new RangeError('timesMinor requires a whole divisor above zero')
  const { units, places } = decimal(quantity)
  const numerator = units * minor(unitMinor, 'timesMinor')
  const denominator = BigInt(per) * 10n ** BigInt(places)
  const size = numerator < 0n ? -numerator : numerator
  const rounded = (2n * size + denominator) / (2n * denominator)
  return safe(numerator < 0n ? -rounded : rounded, 'timesMinor')
}

/**
 * Tax per rate on the sum of the lines at that rate, rounded once a rate, half away from zero; rates in rising order.
 *
 * @throws RangeError when a rate is not a whole number of basis points, zero or more.
 */
export function taxPerRate(lines: readonly { net_minor: number; tax_bp: number }[]): TaxOfRate[] {
  const nets = new Map<number, number>()
  for (const { net_minor, tax_bp } of lines) {
    if (!Number.isSafeInteger(tax_bp) || tax_bp < 0)
      throw new RangeError('taxPerRate requires rates in whole basis points of zero or more')
    nets.set(tax_bp, sumMinor([nets.get(tax_bp) ?? 0, net_minor]))
  }
  return [...nets]
    .sort(([one], [other]) => one - other)
    .map(([tax_bp, net_minor]) => ({ tax_bp, net_minor, tax_minor: timesMinor(tax_bp, net_minor, 10_000) }))
}

/**
 * Splits a total in proportion to weights so that the shares add up: each gets its whole part, and what is left goes to
 * the largest remainders, one unit each, the earlier first where they tie (largest-remainder method, Hamilton).
 *
 * @throws RangeError when a weight is not whole or below zero, or all are zero while the total is not.
 */
export function shareMinor(totalMinor: number, weights: readonly number[]): number[] {
  const total = minor(totalMinor, 'shareMinor')
  const parts = weights.map(weight => {
    if (weight < 0) throw new RangeError('shareMinor requires weights of zero or more')
    return minor(weight, 'shareMinor')
  })
  const whole = parts.reduce((sum, part) => sum + part, 0n)
  if (total === 0n) return parts.map(() => 0)
  if (whole === 0n) throw new RangeError('shareMinor requires a weight above zero')
  const size = total < 0n ? -total : total
  const shares = parts.map(part => (size * part) / whole)
  const left = Number(size - shares.reduce((sum, share) => sum + share, 0n))
  const byRemainder = parts
    .map((part, index) => ({ index, remainder: (size * part) % whole }))
    .sort((one, other) =>
      one.remainder === other.remainder ? one.index - other.index : one.remainder > other.remainder ? -1 : 1,
    )
  for (const { index } of byRemainder.slice(0, left)) shares[index] = shares[index]! + 1n
  return shares.map(share => safe(total < 0n ? -share : share, 'shareMinor'))
}

/** How many decimal places the currency is written with (2 for most, 0 or 3 for some). @throws RangeError for no currency code. */
export function currencyPlaces(currency: string): number {
  return numberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 0
}

/**
 * An amount as a person typed it, in minor units; null when it is no amount. The decimal sign is the locale's; groups may
 * be parted by the locale's sign or by any space, and only where groups belong. The other sign before exactly two places is
 * taken as decimal, since it cannot part thousands: "64,00" is 64 in every locale. "1,5" is refused where the comma parts
 * thousands, since a price that is many times too high is worse than a question. More places than the currency has are too.
 */
export function parseMinor(text: string, locale: string, currency: string): number | null {
  const parts = numberFormat(locale, { numberingSystem: 'latn', useGrouping: true }).formatToParts(1_234_567.8)
  const sign = (type: 'group' | 'decimal') => parts.find(part => part.type === type)?.value ?? ''
  const groups = [sign('group'), ' ', '\u00a0', '\u202f', '\u2009', ...(/['’]/.test(sign('group')) ? ["'", '’'] : [])]
  const group = `[${groups.join('').replace(/[.\-\]\\^]/g, '\\$&')}]`
  const decimalSign = sign('decimal').replace(/[.\\^]/g, '\\$&')
  const amount = new RegExp(`^([-−+]?)(\\d+|\\d{1,3}(?:${group}\\d{2,3})*${group}\\d{3})(?:${decimalSign}(\\d+))?$`)
  const places = currencyPlaces(currency)
  const inOtherSign = places === 2 ? /^([-−+]?)(\d+)[.,](\d\d)$/ : null
  const read = amount.exec(text.trim()) ?? inOtherSign?.exec(text.trim()) ?? null
  if (read === null) return null
  const [, minus = '', whole = '', fraction = ''] = read
  if (fraction.length > places) return null
  const size = Number(whole.replace(/\D/g, '') + fraction.padEnd(places, '0'))
  if (!Number.isSafeInteger(size)) return null
  return (minus === '-' || minus === '−') && size !== 0 ? -size : size
}

/** An amount with its currency sign, as the locale writes it; exact for every safe integer. */
export function formatMinor(amountMinor: number, currency: string, locale: string): string {
  const places = currencyPlaces(currency)
  const digits = minor(Math.abs(amountMinor), 'formatMinor')
    .toString()
    .padStart(places + 1, '0')
  const text = `${amountMinor < 0 ? '-' : ''}${digits.slice(0, digits.length - places)}.${digits.slice(digits.length - places)}`
  return numberFormat(locale, { style: 'currency', currency }).format(
    (places === 0 ? text.slice(0, -1) : text) as Intl.StringNumericLiteral,
  )
}

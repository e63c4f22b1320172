/** A decimal number held exactly: units · 10^−places. */
export interface Decimal {
  units: bigint
  places: number
}

/**
 * Reads a number as the decimal that a person typed (1.5, 0.1), not as the binary fraction nearest to it, so that sums
 * and products that must come out to the last unit do.
 *
 * @throws RangeError when the number is not finite.
 */
export function decimal(value: number): Decimal {
  if (!Number.isFinite(value)) throw new RangeError('decimal requires a finite number')
  const [, sign, whole, fraction = '', exponent = '0'] = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(value))!
  const units = BigInt(`${sign}${whole}${fraction}`)
  const places = fraction.length - Number(exponent)
  return places >= 0 ? { units, places } : { units: units * 10n ** BigInt(-places), places: 0 }
}

/** The sum of numbers as the decimals they were typed as: 0.1 and 0.2 make 0.3. @throws RangeError when one is not finite. */
export function sumDecimals(values: readonly number[]): number {
  const terms = values.map(decimal)
  const places = Math.max(0, ...terms.map(term => term.places))
  const units = terms.reduce((sum, term) => sum + term.units * 10n ** BigInt(places - term.places), 0n)
  return Number(`${units}e-${places}`)
}

import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { sumDecimals } from '../../src/core/decimal.ts'
import { formatMinor, parseMinor, shareMinor, sumMinor, taxPerRate, timesMinor } from '../../src/core/money.ts'

/** A decimal with up to four places, as its exact integer of ten-thousandths and as the number that a person would type. */
const decimals = fc
  .integer({ min: -50_000_000, max: 50_000_000 })
  .map(units => ({ units: BigInt(units), value: units / 10_000 }))

/** Half away from zero by comparing the remainder with its complement: nothing in common with the code but the result. */
function roundedByHand(numerator: bigint, denominator: bigint): number {
  const size = numerator < 0n ? -numerator : numerator
  const rest = size % denominator
  const whole = size / denominator + (rest >= denominator - rest ? 1n : 0n)
  return Number(numerator < 0n ? -whole : whole) + 0
}

describe('timesMinor', () => {
  test.each([
    [1.5, 333, 500],
    [-1.5, 333, -500],
    [0.1, 25, 3],
    [1.005, 100, 101],
    [0.285, 100, 29],
    [2.5e-7, 10_000_000, 3],
    [0, 500, 0],
  ])('%d of %d is %d', (quantity, unit, expected) => {
    expect(timesMinor(quantity, unit)).toBe(expected)
  })

  it('rounds as the exact fraction does', () => {
    fc.assert(
      fc.property(
        decimals,
        fc.integer({ min: -1_000_000, max: 1_000_000 }),
        fc.constantFrom(1, 60, 10_000),
        (quantity, unit, per) => {
          const exact = roundedByHand(quantity.units * BigInt(unit), 10_000n * BigInt(per))
          expect(timesMinor(quantity.value, unit, per) + 0).toBe(exact)
        },
      ),
    )
  })

  it('refuses what is no whole amount, no number, or too large to be exact', () => {
    expect(() => timesMinor(1, 0.5)).toThrow('timesMinor requires amounts in whole minor units')
    expect(() => timesMinor(Number.NaN, 1)).toThrow('decimal requires a finite number')
    expect(() => timesMinor(1e9, 1e9)).toThrow('timesMinor requires a result within the safe integers')
    expect(() => timesMinor(1, 1, 0)).toThrow(RangeError)
  })
})

describe('shareMinor', () => {
  it('gives what is left to the largest remainders, the earlier first', () => {
    expect(shareMinor(100, [1, 1, 1])).toEqual([34, 33, 33])
    expect(shareMinor(-100, [1, 1, 1])).toEqual([-34, -33, -33])
    expect(shareMinor(10, [0, 15, 85])).toEqual([0, 2, 8])
  })

  it('adds up, and no share is a whole unit away from its exact part', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1_000_000, max: 1_000_000 }),
        fc.array(fc.nat(100_000), { minLength: 1, maxLength: 12 }).filter(weights => weights.some(w => w > 0)),
        (total, weights) => {
          const shares = shareMinor(total, weights)
          const whole = weights.reduce((sum, weight) => sum + weight, 0)
          expect(sumMinor(shares)).toBe(total)
          for (const [at, share] of shares.entries())
            expect(Math.abs(share * whole - total * weights[at]!)).toBeLessThan(whole)
        },
      ),
    )
  })

  it('refuses weights below zero, and a total that nothing weighs', () => {
    expect(() => shareMinor(1, [-1, 2])).toThrow('shareMinor requires weights of zero or more')
    expect(() => shareMinor(1, [0, 0])).toThrow('shareMinor requires a weight above zero')
    expect(shareMinor(0, [0, 0])).toEqual([0, 0])
  })
})

describe('taxPerRate', () => {
  it('taxes the sum of a rate, not its lines', () => {
    const lines = [33, 33, 33].map(net_minor => ({ net_minor, tax_bp: 1950 }))
    expect(taxPerRate([...lines, { net_minor: 1000, tax_bp: 0 }])).toEqual([
      { tax_bp: 0, net_minor: 1000, tax_minor: 0 },
      { tax_bp: 1950, net_minor: 99, tax_minor: 19 },
    ])
  })

  it('refuses a rate that is no whole number of basis points', () => {
    expect(() => taxPerRate([{ net_minor: 1, tax_bp: 0.2 }])).toThrow(RangeError)
  })
})

describe('parseMinor and formatMinor', () => {
  test.each([
    ['1 234,50', 'de-DE', 'EUR', 123_450],
    ['1.234,50', 'de-DE', 'EUR', 123_450],
    ['1\u202f234,5', 'fr-FR', 'EUR', 123_450],
    ['1,234.50', 'en-GB', 'GBP', 123_450],
    ['1,23,456.5', 'en-IN', 'INR', 12_345_650],
    ['1’234.50', 'de-CH', 'CHF', 123_450],
    ['-12.5', 'en-GB', 'GBP', -1250],
    ['−12,5', 'de-DE', 'EUR', -1250],
    ['1234', 'ja-JP', 'JPY', 1234],
    ['0', 'en-GB', 'GBP', 0],
    ['64,00', 'en-GB', 'GBP', 6400],
    ['-1234.50', 'de-DE', 'EUR', -123_450],
  ])('reads "%s" in %s as %s', (text, locale, currency, amount) => {
    expect(parseMinor(text, locale, currency)).toBe(amount)
  })

  test.each([
    ['1,5', 'en-GB', 'GBP'],
    ['1,500', 'de-DE', 'EUR'],
    ['1,50', 'en-GB', 'BHD'],
    ['1.500', 'en-GB', 'GBP'],
    ['1.234', 'en-GB', 'GBP'],
    ['1.5', 'ja-JP', 'JPY'],
    ['12 34', 'en-GB', 'GBP'],
    ['', 'en-GB', 'GBP'],
    ['twelve', 'en-GB', 'GBP'],
    ['99999999999999999', 'en-GB', 'GBP'],
  ])('does not guess at "%s" in %s', (text, locale, currency) => {
    expect(parseMinor(text, locale, currency)).toBeNull()
  })

  it('writes every safe integer exactly', () => {
    expect(formatMinor(Number.MAX_SAFE_INTEGER, 'GBP', 'en-GB')).toBe('£90,071,992,547,409.91')
    expect(formatMinor(-5, 'EUR', 'en-GB')).toBe('-€0.05')
    expect(formatMinor(1234, 'JPY', 'en-GB')).toBe('JP¥1,234')
    expect(formatMinor(-1234, 'JPY', 'en-GB')).toBe('-JP¥1,234')
  })

  it('reads back what it wrote', () => {
    const cases = fc.constantFrom(
      ['en-GB', 'GBP'],
      ['de-DE', 'EUR'],
      ['fr-FR', 'EUR'],
      ['ja-JP', 'JPY'],
      ['en-GB', 'BHD'],
    )
    fc.assert(
      fc.property(fc.maxSafeInteger(), cases, (amount, [locale, currency]) => {
        const written = formatMinor(amount, currency!, locale!)
          .replace(/[^\d.,\u00a0\u202f-]/g, '')
          .replace(/^-\s/, '-')
        expect(parseMinor(written, locale!, currency!)).toBe(amount)
      }),
    )
  })
})

describe('sumDecimals', () => {
  it('adds as people do', () => {
    expect(sumDecimals([0.1, 0.2])).toBe(0.3)
    expect(sumDecimals([1e-7, 1e21])).toBe(1e21)
    expect(sumDecimals([])).toBe(0)
  })
})

import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { charges } from '../../src/core/charges.ts'

const lines = fc.array(
  fc.record({
    quantity: fc.integer({ min: -20, max: 400 }).map(quarters => quarters / 4),
    unit_minor: fc.integer({ min: 0, max: 90_000 }),
    tax_bp: fc.constantFrom(0, 700, 1900, 2000),
  }),
  { maxLength: 8 },
)

describe('charges', () => {
  it('rounds a line once and taxes each rate once', () => {
    const labour = { quantity: 1.5, unit_minor: 6001, tax_bp: 2000 }
    const part = { quantity: 1, unit_minor: 999, tax_bp: 700 }
    expect(charges([labour, part, labour])).toEqual({
      line_minor: [9002, 999, 9002],
      discount_minor: 0,
      net_minor: 19_003,
      tax: [
        { tax_bp: 700, net_minor: 999, tax_minor: 70 },
        { tax_bp: 2000, net_minor: 18_004, tax_minor: 3601 },
      ],
      gross_minor: 22_674,
    })
  })

  it('splits a discount over the rates so that it adds up', () => {
    const split = charges(
      [
        { quantity: 1, unit_minor: 1000, tax_bp: 2000 },
        { quantity: 1, unit_minor: 1000, tax_bp: 700 },
        { quantity: 1, unit_minor: 1000, tax_bp: 0 },
      ],
      100,
    )
    expect(split.tax.map(rate => rate.net_minor)).toEqual([966, 967, 967])
    expect(split.net_minor).toBe(2900)
    expect(split.line_minor).toEqual([1000, 1000, 1000])
  })

  it('takes no discount off a rate whose lines give back more than they ask', () => {
    const back = { quantity: -1, unit_minor: 500, tax_bp: 700 }
    const split = charges([{ quantity: 1, unit_minor: 1000, tax_bp: 2000 }, back], 100)
    expect(split.tax.map(rate => rate.net_minor)).toEqual([-500, 900])
  })

  it('adds up whatever the lines and the discount', () => {
    fc.assert(
      fc.property(lines, fc.double({ min: 0, max: 1, noNaN: true }), (some, share) => {
        const full = charges(some)
        const most = full.tax.reduce((sum, rate) => sum + Math.max(0, rate.net_minor), 0)
        const discount = Math.floor(most * share)
        const reduced = charges(some, discount)
        const sum = (amounts: number[]) => amounts.reduce((total, amount) => total + amount, 0)
        expect(sum(reduced.line_minor)).toBe(full.net_minor)
        expect(reduced.net_minor).toBe(full.net_minor - discount)
        expect(sum(reduced.tax.map(rate => rate.net_minor))).toBe(reduced.net_minor)
        expect(reduced.gross_minor).toBe(reduced.net_minor + sum(reduced.tax.map(rate => rate.tax_minor)))
      }),
    )
  })

  it('turns every sign of a credit note', () => {
    fc.assert(
      fc.property(lines, some => {
        const invoice = charges(some)
        const credit = charges(some.map(line => ({ ...line, quantity: -line.quantity })))
        expect(credit.gross_minor + invoice.gross_minor).toBe(0)
      }),
    )
  })

  it('refuses a discount below zero or above the sum of the lines', () => {
    const line = { quantity: 1, unit_minor: 100, tax_bp: 0 }
    expect(() => charges([line], -1)).toThrow('charges requires a discount of zero or more')
    expect(() => charges([line], 101)).toThrow('charges requires a discount of at most what the lines add up to')
    expect(charges([line], 100).gross_minor).toBe(0)
    expect(charges([]).gross_minor).toBe(0)
  })
})

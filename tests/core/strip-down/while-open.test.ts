import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { newOrUsed } from '../../../src/core/strip-down/new-or-used.ts'
import { type OpenComponent, whileOpen } from '../../../src/core/strip-down/while-open.ts'

const bearing: OpenComponent = {
  ...{ n_looked: 12, n_bad: 3, n_looked_all: 40, n_bad_all: 4, severity: 'breakdown', minutes: 10 },
  ...{ part_minor: 2500, own_hours: 0.5, access_hours: 5.2, rate_minor: 6000, our_share_bp: 10_000 },
}

/** Density of the Beta distribution up to a constant, summed by Simpson's rule after u = sin²: no end is infinite. */
function betaBelow(x: number, a: number, b: number): number {
  const simpson = (to: number) => {
    const n = 4000
    const value = (at: number) => Math.sin(at) ** (2 * a - 1) * Math.cos(at) ** (2 * b - 1)
    let sum = 0
    for (let step = 0; step <= n; step++)
      sum += value((to * step) / n) * (step === 0 || step === n ? 1 : step % 2 === 1 ? 4 : 2)
    return sum * to
  }
  return simpson(Math.asin(Math.sqrt(x))) / simpson(Math.PI / 2)
}

describe('whileOpen', () => {
  it('weighs the look against doing the labour again', () => {
    const sum = whileOpen(bearing)
    expect(sum).toMatchObject({
      cost_look_minor: 1000,
      cost_now_minor: 5500,
      cost_later_minor: 36_700,
      worth_it: true,
      asked_for: true,
    })
    expect(sum.chance).toBeCloseTo(3.5 / 13, 12)
    expect(sum.break_even_chance).toBeCloseTo(1000 / 31_200, 12)
    expect(sum.net_minor).toBe(Math.round((3.5 / 13) * 31_200 - 1000))
    expect(sum.chance_worth_it).toBeCloseTo(1 - betaBelow(1000 / 31_200, 3.5, 9.5), 6)
  })

  it('has limits with 2.5 % beyond either', () => {
    const { chance_lower, chance_upper } = whileOpen(bearing)
    expect(betaBelow(chance_lower, 3.5, 9.5)).toBeCloseTo(0.025, 6)
    expect(betaBelow(chance_upper, 3.5, 9.5)).toBeCloseTo(0.975, 6)
  })

  it('borrows four looks at the rate of all families below ten of its own', () => {
    const all = (0.5 + 4) / (1 + 40)
    const few = whileOpen({ ...bearing, n_looked: 9, n_bad: 1 })
    expect(few.chance).toBeCloseTo((1.5 + 4 * all) / (10 + 4), 12)
    expect(whileOpen({ ...bearing, n_looked: 10, n_bad: 1 }).chance).toBeCloseTo(1.5 / 11, 12)
    expect(whileOpen({ ...bearing, n_looked: 0, n_bad: 0, n_looked_all: 0, n_bad_all: 0 }).chance).toBe(0.5)
  })

  it('always asks for a look at a safety component, and shows its sum all the same', () => {
    const dear = { ...bearing, minutes: 600, severity: 'safety' as const }
    expect(whileOpen(dear)).toMatchObject({
      asked_for: true,
      worth_it: false,
      cost_look_minor: 60_000,
      chance_worth_it: 0,
    })
    expect(whileOpen({ ...dear, severity: 'nuisance' }).asked_for).toBe(false)
  })

  it('has no break-even where waiting costs us nothing more', () => {
    for (const change of [{ our_share_bp: 0 }, { access_hours: 0 }, { rate_minor: 0 }])
      expect(whileOpen({ ...bearing, ...change })).toMatchObject({
        break_even_chance: null,
        chance_worth_it: 0,
        worth_it: false,
      })
  })

  it('is worth it exactly when its net is above zero, to the rounding, and keeps chances between 0 and 1', () => {
    const components = fc.record({
      looked: fc.nat(60),
      badShare: fc.double({ min: 0, max: 1, noNaN: true }),
      minutes: fc.nat(400),
      access: fc.nat(80),
      share: fc.nat(10_000),
    })
    fc.assert(
      fc.property(components, ({ looked, badShare, minutes, access, share }) => {
        const sum = whileOpen({
          ...bearing,
          n_looked: looked,
          n_bad: Math.floor(looked * badShare),
          minutes,
          access_hours: access / 10,
          our_share_bp: share,
        })
        if (Math.abs(sum.net_minor) > 1) expect(sum.worth_it).toBe(sum.net_minor > 0 && sum.break_even_chance !== null)
        const chances = [0, sum.chance_lower, sum.chance, sum.chance_upper, 1]
        expect([...chances].sort((a, b) => a - b)).toEqual(chances)
        expect(sum.chance_worth_it).toSatisfy((chance: number) => chance >= 0 && chance <= 1)
      }),
    )
  })

  it('refuses more bad than looked at, and prices below zero', () => {
    expect(() => whileOpen({ ...bearing, n_bad: 13 })).toThrow(
      'betaOfCases requires whole counts with no more bad than there are',
    )
    expect(() => whileOpen({ ...bearing, n_looked_all: Number.NaN })).toThrow(RangeError)
    expect(() => whileOpen({ ...bearing, minutes: -1 })).toThrow('whileOpen requires a look of zero minutes or more')
    expect(() => whileOpen({ ...bearing, part_minor: -1 })).toThrow(
      'costLater requires times and prices of zero or more',
    )
  })
})

describe('newOrUsed', () => {
  it('adds what a failure would cost, and tells the discount at which they tie', () => {
    const sum = newOrUsed(
      { price_minor: 20_000, chance_of_failure: 0.02 },
      { price_minor: 9000, chance_of_failure: 0.15 },
      60_000,
    )
    expect(sum).toEqual({
      expected_new_minor: 21_200,
      expected_used_minor: 18_000,
      tie_price_minor: 12_200,
      tie_discount_minor: 7800,
    })
    const tie = newOrUsed(
      { price_minor: 20_000, chance_of_failure: 0.02 },
      { price_minor: sum.tie_price_minor, chance_of_failure: 0.15 },
      60_000,
    )
    expect(tie.expected_new_minor).toBe(tie.expected_used_minor)
  })

  it('refuses chances and prices that are none', () => {
    const part = { price_minor: 100, chance_of_failure: 0.1 }
    expect(() => newOrUsed(part, { ...part, chance_of_failure: 1.1 }, 1)).toThrow(
      'newOrUsed requires chances from zero to one',
    )
    expect(() => newOrUsed({ ...part, price_minor: -1 }, part, 1)).toThrow('newOrUsed requires prices of zero or more')
  })
})

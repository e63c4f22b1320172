import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { setVerdict } from '../../../src/core/fastening/set-verdict.ts'
import { tolerance } from '../../../src/core/fastening/tolerance.ts'
import { verdict } from '../../../src/core/fastening/verdict.ts'
import { publishedIds, publishedRow } from './published.ts'

/** Readings, limits and uncertainty with two decimals, as instruments show them. */
const cents = (min: number, max: number) =>
  fc.integer({ min: min * 100, max: max * 100 }).map(hundredths => hundredths / 100)
const readings = fc.record({
  lower: cents(0, 100),
  width: cents(0, 60),
  value: cents(0, 200),
  uncertainty: cents(0, 40),
})

describe('verdict', () => {
  it('leaves no published row unchecked', () => {
    expect(publishedIds('verdicts')).toEqual(['jcgm106.7.4', 'ilac.g8.rules', 'decision.torque.example'])
  })

  it('gives the conformance probability of JCGM 106, 7.4', () => {
    const { inputs, expected } = publishedRow<Record<string, number>, { p_c: number; p_c_printed: number }>(
      'verdicts',
      'jcgm106.7.4',
    )
    const { y, u, TL, TU } = inputs
    const chance = verdict({ lower: TL!, upper: TU!, value: y!, uncertainty: 2 * u! }).conformance_probability!
    expect(Math.abs(chance - expected.p_c)).toBeLessThan(0.0005)
    expect(Number(chance.toFixed(2))).toBe(expected.p_c_printed)
  })

  it('accepts falsely no more often than the rules of ILAC-G8 say', () => {
    const row = publishedRow<
      object,
      { guarded: { exact_at_limit: number }; from_memory_table1: Record<string, number | string> }
    >('verdicts', 'ilac.g8.rules').expected
    // One limit that matters, the other out of reach; a reading on the acceptance limit T_U - w.
    const falseAccept = (widthInU: number) =>
      1 - verdict({ lower: -1e6, upper: 100, value: 100 - widthInU * 4, uncertainty: 4 }).conformance_probability!
    expect(falseAccept(0)).toBeCloseTo(0.5, 12)
    expect(Math.abs(falseAccept(1) - row.guarded.exact_at_limit)).toBeLessThan(0.00001)
    expect(falseAccept(1)).toBeLessThan(0.025)
    expect(Math.abs(falseAccept(1.5) - Number(row.from_memory_table1['w=1.5U']))).toBeLessThan(0.0005)
    expect(Math.abs(falseAccept(0.83) - Number(row.from_memory_table1['w=0.83U (ISO 14253-1:2017)']))).toBeLessThan(
      0.002,
    )
    expect(falseAccept(3)).toBeLessThan(1e-6)
    const said = [96, 96.01, 100, 104, 104.01].map(
      value => verdict({ lower: 0, upper: 100, value, uncertainty: 4 }).verdict,
    )
    expect(said).toEqual(['conforms', 'unsure', 'unsure', 'unsure', 'outside'])
  })

  it('judges the worked example of 100 N·m ± 10 % with U = 4 N·m', () => {
    const { inputs, expected } = publishedRow<
      Record<string, number>,
      { acceptance: number[]; p_c: Record<string, number>; status: Record<string, string> }
    >('verdicts', 'decision.torque.example')
    const judge = (value: number) =>
      verdict({ lower: inputs.TL!, upper: inputs.TU!, value, uncertainty: inputs.k! * inputs.u! })
    for (const [value, chance] of Object.entries(expected.p_c))
      expect(Math.abs(judge(Number(value)).conformance_probability! - chance)).toBeLessThan(1e-5)
    const words = { pass: 'conforms', 'conditional pass': 'unsure', 'conditional fail': 'unsure', fail: 'outside' }
    for (const [value, status] of Object.entries(expected.status))
      expect(judge(Number(value)).verdict).toBe(words[status as keyof typeof words])
    const [least, most] = expected.acceptance
    expect([least! - 0.01, least!, most!, most! + 0.01].map(value => judge(value).verdict)).toEqual([
      'unsure',
      'conforms',
      'conforms',
      'unsure',
    ])
  })

  it('never says conforms within the guard band, nor outside within it, counting in exact hundredths', () => {
    fc.assert(
      fc.property(readings, ({ lower, width, value, uncertainty }) => {
        const said = verdict({ lower, upper: Number((lower + width).toFixed(2)), value, uncertainty }).verdict
        const [y, low, w, guard] = [value, lower, width, uncertainty].map(number => BigInt(Math.round(number * 100)))
        const isIn = y! >= low! + guard! && y! <= low! + w! - guard!
        const isOut = y! < low! - guard! || y! > low! + w! + guard!
        expect(said).toBe(isIn ? 'conforms' : isOut ? 'outside' : 'unsure')
      }),
    )
  })

  it('is sure of what conforms, and the chance is one', () => {
    fc.assert(
      fc.property(readings, ({ lower, width, value, uncertainty }) => {
        const result = verdict({ lower, upper: lower + width, value, uncertainty })
        expect(result.conformance_probability).toBeGreaterThanOrEqual(0)
        expect(result.conformance_probability).toBeLessThanOrEqual(1)
        if (result.verdict === 'conforms') expect(result.conformance_probability).toBeGreaterThan(0.954)
        if (result.verdict === 'outside') expect(result.conformance_probability).toBeLessThan(0.023)
      }),
    )
  })

  it('claims nothing without an uncertainty', () => {
    const judge = (value: number) => verdict({ lower: 38, upper: 42, value, uncertainty: null })
    expect(judge(40)).toEqual({ verdict: 'unsure', conformance_probability: null })
    expect(judge(42)).toEqual({ verdict: 'unsure', conformance_probability: null })
    expect(judge(42.1)).toEqual({ verdict: 'outside', conformance_probability: null })
  })

  it('takes an uncertainty of nothing at its word', () => {
    expect(verdict({ lower: 38, upper: 42, value: 42, uncertainty: 0 })).toEqual({
      verdict: 'conforms',
      conformance_probability: 1,
    })
    expect(verdict({ lower: 38, upper: 42, value: 43, uncertainty: 0 })).toEqual({
      verdict: 'outside',
      conformance_probability: 0,
    })
    expect(verdict({ lower: 38, upper: 38, value: 38, uncertainty: 5e-324 }).conformance_probability).toBe(1)
  })

  it('refuses limits that are crossed and numbers that are none', () => {
    expect(() => verdict({ lower: 2, upper: 1, value: 1, uncertainty: 0 })).toThrow(
      'verdict requires a lower limit not above the upper',
    )
    expect(() => verdict({ lower: 1, upper: 2, value: Number.NaN, uncertainty: 0 })).toThrow(
      'verdict requires finite limits and value',
    )
    expect(() => verdict({ lower: 1, upper: 2, value: 1, uncertainty: -1 })).toThrow(
      'verdict requires an uncertainty of zero or more',
    )
  })
})

describe('setVerdict', () => {
  const click = {
    set_nm: 40,
    stage_set_nm: 40,
    scale_division_nm: 0.5,
    wrench_usable: true,
    lower: 38,
    upper: 42,
    uncertainty: 1.6,
  }

  it('is as set to half a scale division, and done when U is at most half of the tolerance', () => {
    expect(setVerdict(click)).toEqual({ verdict: 'as_set', counts_as_done: true })
    expect(setVerdict({ ...click, set_nm: 40.25 }).verdict).toBe('as_set')
    expect(setVerdict({ ...click, set_nm: 40.26 })).toEqual({ verdict: 'outside', counts_as_done: false })
    expect(setVerdict({ ...click, uncertainty: 2 }).counts_as_done).toBe(true)
    expect(setVerdict({ ...click, uncertainty: 2.01 })).toEqual({ verdict: 'as_set', counts_as_done: false })
    expect(setVerdict({ ...click, uncertainty: null })).toEqual({ verdict: 'as_set', counts_as_done: false })
  })

  it('is outside when the wrench was not usable that day', () => {
    expect(setVerdict({ ...click, wrench_usable: false })).toEqual({ verdict: 'outside', counts_as_done: false })
  })

  it('wants the very digit where the scale is not known', () => {
    expect(setVerdict({ ...click, scale_division_nm: null }).verdict).toBe('as_set')
    expect(setVerdict({ ...click, scale_division_nm: null, set_nm: 40.01 }).verdict).toBe('outside')
    expect(setVerdict({ ...click, scale_division_nm: null, stage_set_nm: 0.1 + 0.2, set_nm: 0.3 }).verdict).toBe(
      'as_set',
    )
  })

  it('refuses a setting of nothing', () => {
    expect(() => setVerdict({ ...click, set_nm: 0 })).toThrow('setVerdict requires settings above zero')
  })
})

describe('tolerance', () => {
  it("takes the procedure's limits, and says when the workshop's own stand in", () => {
    expect(tolerance({ target: 40, lower: 37, upper: 43 }, 500)).toEqual({ lower: 37, upper: 43, default_used: false })
    expect(tolerance({ target: 40 }, 500)).toEqual({ lower: 38, upper: 42, default_used: true })
    expect(tolerance({ target: 40, lower: 40, upper: null }, 500)).toEqual({ lower: 40, upper: 42, default_used: true })
  })

  it('refuses a target outside its limits', () => {
    expect(() => tolerance({ target: 40, lower: 41 }, 500)).toThrow('tolerance requires a target within its limits')
    expect(() => tolerance({ target: 0 }, 500)).toThrow('tolerance requires a target above zero')
    expect(() => tolerance({ target: 1 }, -1)).toThrow('tolerance requires a default tolerance of zero or more')
  })
})

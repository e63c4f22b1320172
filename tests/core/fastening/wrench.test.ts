import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { calibrationOn } from '../../../src/core/fastening/calibration-on.ts'
import { instrumentUncertainty } from '../../../src/core/fastening/instrument-uncertainty.ts'
import { toolClassShare } from '../../../src/core/fastening/tool-class.ts'
import { toolDeviation } from '../../../src/core/fastening/tool-deviation.ts'
import { wrenchChoice } from '../../../src/core/fastening/wrench-choice.ts'
import {
  type CalibrationRule,
  wrenchUsable as usableByRule,
  type WrenchFacts,
} from '../../../src/core/fastening/wrench-usable.ts'
import { publishedIds, publishedRow } from './published.ts'

const certificate = {
  id: 'k1',
  made_on: '2031-03-10',
  created_at: 1,
  found: 'good',
  points: [{ at_nm: 40, uncertainty_nm: 1.2 }],
} as const
const wrench: WrenchFacts = {
  ...{ min_nm: null, max_nm: 200, class: null, calibrations: [certificate] },
  ...{ withdrawals: [], in_use_since: null, cycles: null },
}

/** What ISO 6789 proposes; a workshop may have its own rule. */
const ISO: CalibrationRule = { months: 12, cycles: 5000 }
const wrenchUsable = (facts: WrenchFacts, valueNm: number, day: string, rule = ISO) =>
  usableByRule(facts, valueNm, day, rule)

it('leaves no published row of instruments unchecked', () => {
  expect(publishedIds('instruments')).toEqual(['iso6789.mpe.II_A', 'iso6789.deviation', 'iso6789.interval'])
})

describe('instrumentUncertainty', () => {
  const points = [
    { at_nm: 100, uncertainty_nm: 3 },
    { at_nm: 20, uncertainty_nm: 1 },
    { at_nm: 60, uncertainty_nm: 1.4 },
  ]

  test.each([
    [20, 1],
    [40, 1.2],
    [60, 1.4],
    [70, 1.8],
    [100, 3],
    [5, 1],
    [150, 3],
  ])('is linear between the points of the certificate: at %d N·m %d N·m', (value, expected) => {
    expect(instrumentUncertainty(value, { max_nm: 100, class: 'II A', points })).toBeCloseTo(expected, 12)
  })

  it('lets the larger stand where a certificate gives one torque twice', () => {
    const twice = [...points, { at_nm: 60, uncertainty_nm: 2 }, { at_nm: 20, uncertainty_nm: 0.5 }]
    expect(instrumentUncertainty(60, { max_nm: 100, class: null, points: twice })).toBe(2)
    expect(instrumentUncertainty(80, { max_nm: 100, class: null, points: twice })).toBeCloseTo(2.5, 12)
    expect(instrumentUncertainty(1, { max_nm: 100, class: null, points: twice })).toBe(1)
  })

  it('falls back on the class, by the maximum of the tool and not the reading (iso6789.mpe.II_A)', () => {
    const mpe = publishedRow<object, Record<string, number>>('instruments', 'iso6789.mpe.II_A').expected
    const byClass = (value: number, max_nm: number) =>
      instrumentUncertainty(value, { max_nm, class: 'II A', points: [] })! / value
    expect(byClass(8, 50)).toBeCloseTo(mpe['rating > 10 N.m']!, 12)
    expect(byClass(8, 10)).toBeCloseTo(mpe['rating <= 10 N.m']!, 12)
  })

  it('is unknown without certificate or class', () => {
    expect(instrumentUncertainty(40, { max_nm: 100, class: null, points: [] })).toBeNull()
    expect(() => instrumentUncertainty(-1, { max_nm: 100, class: null, points })).toThrow(
      'instrumentUncertainty requires a value of zero or more',
    )
  })

  it.each([
    'II A',
    'iia',
    'Type II, Class A',
    'I B',
    'ISO 6789:2003 Type II Class G',
    'EN ISO 6789 II A',
    'A',
    'class C',
    '2-A',
  ])('knows “%s” for a class of the standard', text => {
    expect(instrumentUncertainty(50, { max_nm: 100, class: text, points: [] })).toBe(2)
  })

  it.each(['4 %', 'II H', 'I F', 'good', 'DIN', '', 'AA', 'III A'])('gets no number from “%s”', text => {
    expect(toolClassShare(text, 100)).toBeNull()
    expect(instrumentUncertainty(50, { max_nm: 100, class: text, points: [] })).toBeNull()
    const bare = { ...wrench, class: text, calibrations: [], in_use_since: '2031-01-01' }
    expect(wrenchUsable(bare, 50, '2031-02-01')).toEqual(['never_calibrated'])
  })

  it('stays between the least and the greatest of the certificate', () => {
    const anyPoints = fc.array(
      fc.record({ at_nm: fc.integer({ min: 1, max: 9 }), uncertainty_nm: fc.integer({ min: 1, max: 50 }) }),
      { minLength: 1, maxLength: 6 },
    )
    fc.assert(
      fc.property(anyPoints, fc.double({ min: 0, max: 12, noNaN: true }), (some, value) => {
        const all = some.map(point => point.uncertainty_nm)
        const u = instrumentUncertainty(value, { max_nm: 10, class: null, points: some })!
        expect(u).toBeGreaterThanOrEqual(Math.min(...all))
        expect(u).toBeLessThanOrEqual(Math.max(...all))
      }),
    )
  })
})

describe('toolDeviation', () => {
  it('is relative to the reference (iso6789.deviation)', () => {
    const { inputs, expected } = publishedRow<
      Record<string, { value: number }>,
      { A_s_pct: number; reference_limits_for_4pct: number[] }
    >('instruments', 'iso6789.deviation')
    const deviation = toolDeviation(inputs.X_a!.value, inputs.X_r!.value)
    expect(Math.abs(deviation.deviation_percent - expected.A_s_pct)).toBeLessThan(0.001)
    const [low, high] = expected.reference_limits_for_4pct
    expect(toolDeviation(100, low!).deviation_percent).toBeCloseTo(4, 3)
    expect(toolDeviation(100, high!).deviation_percent).toBeCloseTo(-4, 3)
  })

  it('says which way the joints went', () => {
    expect(toolDeviation(100, 104).joints_got).toBe('more')
    expect(toolDeviation(100, 96).joints_got).toBe('less')
    expect(toolDeviation(100, 100)).toEqual({ deviation_percent: 0, joints_got: 'as_asked' })
    expect(() => toolDeviation(100, 0)).toThrow('toolDeviation requires torques above zero')
  })
})

describe('wrenchUsable', () => {
  const day = '2031-11-04'

  it('spans 20 to 100 % of its maximum, or from its lowest mark', () => {
    const troubles = [39.9, 40, 200, 200.1].map(value => wrenchUsable(wrench, value, day))
    expect(troubles).toEqual([['below_its_range'], [], [], ['above_its_range']])
    expect(wrenchUsable({ ...wrench, min_nm: 28 }, 30, day)).toEqual([])
    expect(wrenchUsable({ ...wrench, min_nm: 60 }, 50, day)).toEqual(['below_its_range'])
  })

  it('is due after 12 months or 5 000 cycles, whichever is first (iso6789.interval)', () => {
    const row = publishedRow<object, { default_months: number; default_cycles: number; also_after: string[] }>(
      'instruments',
      'iso6789.interval',
    ).expected
    expect([row.default_months, row.default_cycles]).toEqual([12, 5000])
    expect(wrenchUsable(wrench, 40, '2032-03-10')).toEqual([])
    expect(wrenchUsable(wrench, 40, '2032-03-11')).toEqual(['calibration_overdue'])
    expect(wrenchUsable({ ...wrench, cycles: 4999 }, 40, day)).toEqual([])
    expect(wrenchUsable({ ...wrench, cycles: 5000 }, 40, day)).toEqual(['cycles_used_up'])
    expect(wrenchUsable(wrench, 40, '2031-09-11', { months: 6, cycles: 100 })).toEqual(['calibration_overdue'])
    expect(row.also_after).toEqual(['overload', 'drop or improper handling', 'repair'])
    expect(wrenchUsable({ ...wrench, withdrawals: [{ id: 'd1', on: '2031-05-01', created_at: 2 }] }, 40, day)).toEqual([
      'withdrawn',
    ])
  })

  it('comes back with a good calibration after the drop, of one day the one recorded later', () => {
    const dropped = { ...wrench, withdrawals: [{ id: 'd1', on: '2031-05-01', created_at: 20 }] }
    const again = (made_on: string, created_at: number, found: 'good' | 'outside' = 'good') =>
      wrenchUsable(
        { ...dropped, calibrations: [certificate, { id: 'k2', made_on, created_at, found, points: [] }] },
        40,
        day,
      )
    expect(again('2031-05-02', 30)).toEqual([])
    expect(again('2031-05-01', 30)).toEqual([])
    expect(again('2031-05-01', 10)).toEqual(['withdrawn'])
    // a check that lies after the day in question says nothing of that day
    expect(again('2031-12-01', 30)).toEqual(['withdrawn'])
    expect(again('2031-05-02', 30, 'outside')).toEqual(['found_outside', 'withdrawn'])
    expect(wrenchUsable(dropped, 40, '2031-04-30')).toEqual([])
  })

  it('runs from its first use while the declaration for its class is its only proof', () => {
    const fresh = { ...wrench, class: 'II A', calibrations: [], in_use_since: '2031-01-01' }
    expect(wrenchUsable(fresh, 40, day)).toEqual([])
    expect(wrenchUsable({ ...fresh, in_use_since: null }, 40, day)).toEqual([])
    expect(wrenchUsable(fresh, 40, '2032-01-02')).toEqual(['calibration_overdue'])
    expect(wrenchUsable({ ...fresh, class: null }, 40, day)).toEqual(['never_calibrated'])
    expect(wrenchUsable(wrench, 40, '2031-03-09')).toEqual(['never_calibrated'])
  })

  it('goes by the last certificate of the day', () => {
    const outside = { ...certificate, found: 'outside' as const, created_at: 2 }
    expect(calibrationOn([outside, certificate], day)).toBe(outside)
    expect(calibrationOn([certificate, { ...outside, made_on: '2031-12-01' }], day)).toBe(certificate)
    expect(calibrationOn([certificate], '2031-03-09')).toBeNull()
    expect(wrenchUsable({ ...wrench, calibrations: [outside, certificate] }, 40, day)).toEqual(['found_outside'])
  })

  it('refuses a torque of nothing', () => {
    expect(() => wrenchUsable(wrench, 0, day)).toThrow('wrenchUsable requires a torque above zero')
  })
})

describe('wrenchChoice', () => {
  const stage = { target_nm: 40, lower: 38, upper: 42 }
  const shop = [
    { ...wrench, id: 'unknown', calibrations: [{ ...certificate, points: [] }] },
    { ...wrench, id: 'coarse', calibrations: [{ ...certificate, points: [{ at_nm: 40, uncertainty_nm: 2.5 }] }] },
    { ...wrench, id: 'fine' },
    { ...wrench, id: 'fine too' },
    { ...wrench, id: 'large', max_nm: 300 },
    { ...wrench, id: 'old', calibrations: [{ ...certificate, made_on: '2029-01-01' }], cycles: 9000 },
  ]

  it('puts the usable one of smallest uncertainty first, and says what speaks against each other', () => {
    const choice = wrenchChoice(stage, shop, '2031-11-04', ISO)
    expect(choice.best_first.map(({ id }) => id)).toEqual(['fine', 'fine too', 'coarse', 'unknown'])
    expect(choice.best_first[0]).toEqual({ id: 'fine', uncertainty_nm: 1.2, proves_tolerance: true })
    expect(choice.best_first.at(-1)).toEqual({ id: 'unknown', uncertainty_nm: null, proves_tolerance: false })
    expect(choice.out).toEqual([
      { id: 'large', because: ['below_its_range'] },
      { id: 'old', because: ['calibration_overdue', 'cycles_used_up'] },
    ])
    expect(choice.can_be_proved).toBe(true)
  })

  it('says before tightening that no wrench can prove the tolerance', () => {
    expect(wrenchChoice({ target_nm: 40, lower: 39, upper: 41 }, shop, '2031-11-04', ISO).can_be_proved).toBe(false)
    expect(wrenchChoice(stage, [], '2031-11-04', ISO)).toEqual({ best_first: [], out: [], can_be_proved: false })
  })

  it("follows the shop's own rule for calibration", () => {
    const choice = wrenchChoice(stage, shop, '2031-11-04', { months: 3, cycles: 5000 })
    expect(choice.best_first).toEqual([])
  })
})

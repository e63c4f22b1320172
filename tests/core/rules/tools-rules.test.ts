import { describe, expect, it, test } from 'vitest'
import type { WrenchFacts } from '../../../src/core/fastening/wrench-usable.ts'
import { adapterDrawing } from '../../../src/platform/pages/figures/adapter.ts'
import { pointFaults } from '../../../src/tools/rules/certificate-faults.ts'
import { calibrationLeft, dueOn } from '../../../src/tools/rules/due.ts'
import { classInWords, deviationInWords, leftInWords, standingInWords } from '../../../src/tools/rules/words.ts'

const ISO = { months: 12, cycles: 5000 }
const certificate = { id: 'k1', made_on: '2031-03-10', created_at: 1, found: 'good' as const, points: [] }
const wrench: WrenchFacts = {
  ...{ min_nm: 20, max_nm: 100, class: null, calibrations: [certificate] },
  ...{ withdrawals: [], in_use_since: '2031-01-01', cycles: null },
}

describe('what is left of a calibration', () => {
  test.each([
    ['2031-03-10', null, { days: 366, cycles: null, soon: false }],
    ['2032-02-08', null, { days: 31, cycles: null, soon: true }],
    ['2032-02-07', 4499, { days: 32, cycles: 501, soon: false }],
    ['2032-02-07', 4500, { days: 32, cycles: 500, soon: true }],
    ['2032-03-10', 0, { days: 0, cycles: 5000, soon: true }],
    ['2032-03-11', 0, null],
    ['2031-03-11', 5000, null],
    ['2031-03-09', null, null],
  ])('on %s with %s cycles', (day, cycles, left) => {
    expect(calibrationLeft({ ...wrench, cycles }, day, ISO)).toEqual(left)
  })

  it('runs from the first use where only the class of the standard speaks for it, and not where it is none', () => {
    expect(dueOn({ ...wrench, calibrations: [], class: 'II A' }, '2031-02-01', ISO)).toBe('2032-01-01')
    expect(dueOn({ ...wrench, calibrations: [], class: 'best' }, '2031-02-01', ISO)).toBeNull()
    expect(dueOn({ ...wrench, calibrations: [{ ...certificate, found: 'outside' }] }, '2031-04-01', ISO)).toBeNull()
  })

  it('is said in words', () => {
    const left = { days: 14, cycles: 1240, soon: true }
    expect(leftInWords(left)).toBe('14 days and 1\u00a0240 cycles')
    expect(leftInWords({ days: 1, cycles: 1, soon: true })).toBe('1 day and 1 cycle')
    expect(leftInWords({ days: 0, cycles: null, soon: true })).toBe('today only')
    expect(standingInWords([], '2031-11-18', left)).toBe(
      'may be used, to 18 November 2031: due soon, 14 days and 1\u00a0240 cycles left',
    )
    expect(standingInWords(['withdrawn'], '2031-11-18', left)).toBe('not to be used: taken out of use')
  })
})

describe('words of a wrench', () => {
  test.each([
    [100, 104, 'reads 3.8 % low: its joints got more than asked for'],
    [50, 47, 'reads 6.4 % high: its joints got less than asked for'],
    [50, 50, 'reads true: its joints got what was asked for'],
    [50, 50.001, 'reads true: its joints got what was asked for'],
  ])('set to %s where the reference showed %s', (set, reference, words) => {
    expect(deviationInWords(set, reference)).toBe(words)
  })

  it('says what its class is good for', () => {
    expect(classInWords({ class: 'II A', max_nm: 100 })).toBe('II A: ±4 % where there is no certificate')
    expect(classInWords({ class: 'II A', max_nm: 10 })).toBe('II A: ±6 % where there is no certificate')
    expect(classInWords({ class: 'Gold', max_nm: 10 })).toBe('Gold: not a class of ISO 6789, so it gives no number')
    expect(classInWords({ class: null, max_nm: 10 })).toBe('not said')
  })
})

describe('slips of typing in a certificate', () => {
  const range = { min_nm: 20, max_nm: 100 }

  it('takes what can be: a fifth of the value, twice and half of the range, a reference off by less than half', () => {
    const points = [
      { at_nm: 100, uncertainty_nm: 20 },
      { at_nm: 200, uncertainty_nm: 4 },
      { at_nm: 10, uncertainty_nm: 0.3, reference_nm: 5 },
    ]
    expect(pointFaults(range, points)).toEqual([])
    expect(pointFaults({ min_nm: 0, max_nm: 100 }, [{ at_nm: 0.5, uncertainty_nm: 0.02 }])).toEqual([])
  })

  it('names each by its field', () => {
    const points = [
      { at_nm: 80, uncertainty_nm: 80 },
      { at_nm: 80, uncertainty_nm: 1 },
      { at_nm: 9.9, uncertainty_nm: 0.1 },
      { at_nm: 50, uncertainty_nm: 1, reference_nm: 500 },
    ]
    expect(pointFaults(range, points).map(({ pointer, code }) => [pointer, code])).toEqual([
      ['/points/0/uncertainty_nm', 'too_large'],
      ['/points/1/at_nm', 'twice'],
      ['/points/2/at_nm', 'out_of_range'],
      ['/points/3/reference_nm', 'out_of_range'],
    ])
  })
})

describe('the drawing of an adapter', () => {
  const input = { id: 'a', wrench: 'W-07', adapter: 'Crowfoot', wrench_length_mm: 400, adapter_length_mm: 100 }
  /** Where the dimension lines begin and end: L, then L + E·cos θ. */
  const levers = (angle_deg: number, nth: number) =>
    adapterDrawing({ ...input, angle_deg })[nth]!.shapes.flatMap(shape =>
      'line' in shape && shape.mark === 'ink-line' && shape.y1 === shape.y2 ? [shape.x2 - shape.x1] : [],
    )

  test.each([0, 30, 90, 135, 180])('keeps both levers to scale at %d°, wide and narrow', angle => {
    for (const nth of [0, 1]) {
      const [wrenchLever, whole] = levers(angle, nth)
      const expected = (400 + 100 * Math.cos((angle * Math.PI) / 180)) / 400
      expect(whole! / wrenchLever!).toBeCloseTo(expected, 2)
    }
  })

  it('says in words what it shows, and stays inside its frame', () => {
    for (const angle_deg of [0, 45, 90, 180]) {
      for (const long of angle_deg === 180 ? [20, 390] : [20, 900]) {
        for (const drawing of adapterDrawing({ ...input, adapter_length_mm: long, angle_deg })) {
          expect(drawing.description).toContain(`at θ = ${angle_deg}° to the wrench`)
          for (const shape of drawing.shapes) {
            if (!('text' in shape)) continue
            expect(shape.x).toBeGreaterThan(0)
            expect(shape.x).toBeLessThan(drawing.width)
            expect(shape.y).toBeGreaterThan(0)
            expect(shape.y).toBeLessThan(drawing.height)
          }
        }
      }
    }
  })
})

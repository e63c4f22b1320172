import { describe, expect, test } from 'vitest'
import { stages } from '../../../src/core/fastening/stages.ts'
import { type FittedFacts, fitted } from '../../../src/fastening/rules/fitted.ts'
import { pair, pass, records, type Said } from '../fastening/torque-records.ts'

const both = [...pass(1, 2), ...pass(2, 2)]
const facts = (said: Said[], more: Partial<FittedFacts> = {}): FittedFacts => ({
  reuse: 'never',
  state: stages({ ...pair, reuse: more.reuse ?? 'never' }, records(...said)),
  temporary: [],
  parts: [],
  inspections: [],
  ...more,
})
const issued = (quantity: number, more: object = {}) => ({ quantity, batch: 'L-1', condition: 'new', ...more })
const faultsOf = (given: FittedFacts) => fitted(given).faults.map(fault => fault.reason)

describe('single-use fasteners', () => {
  test('are new ones, with their batch, as many as were fitted', () => {
    expect(fitted(facts(both)).new_fasteners).toEqual({ needed: 2, issued: 0 })
    expect(faultsOf(facts(both))).toEqual(['new_fasteners_missing'])
    expect(faultsOf(facts(both, { parts: [issued(1), issued(1)] }))).toEqual([])
    const replaced = [...both, ...pass(2, 2, 2)]
    expect(faultsOf(facts(replaced, { parts: [issued(2)] }))).toEqual(['new_fasteners_missing'])
    expect(faultsOf(facts(replaced, { parts: [issued(3)] }))).toEqual([])
  })

  test.each([
    ['without a batch', { batch: null }],
    ['used', { condition: 'used' }],
    ['reconditioned', { condition: 'reconditioned' }],
  ])('%s do not count', (_, more) => {
    expect(faultsOf(facts(both, { parts: [issued(2, more)] }))).toEqual(['new_fasteners_missing'])
  })

  test('say in numbers what is missing', () => {
    const [fault] = fitted(facts(both, { parts: [issued(1), issued(4, { batch: null })] })).faults
    expect(fault!.sentence).toBe(
      'Its fasteners are for single use: 2 new needed, 1 noted with a batch (4 more without a batch, which do not count). Note 1 more on this joint.',
    )
  })

  test('an inspection makes none of them fit', () => {
    expect(faultsOf(facts(both, { inspections: [{ fit: true }] }))).toEqual(['new_fasteners_missing'])
  })
})

describe('old fasteners for a time', () => {
  const temporary = [{ reason: 'To the other lift', fasteners_then: [1, 1] }]

  test('stay temporary whatever is recorded on them, and whatever was noted', () => {
    const given = facts(both, { temporary, parts: [issued(9)] })
    expect(fitted(given)).toMatchObject({ temporary: true, new_fasteners: { needed: 2 } })
    expect(faultsOf(given)).toEqual(['temporary_fasteners'])
    const [fault] = fitted(given).faults
    expect(fault!.sentence).toContain('not for the road (To the other lift): 0 of 2 are new since')
  })

  test('end when every position has a new one with all its stages, and these are noted', () => {
    const half = [...both, ...pass(1, 2, 2)]
    expect(fitted(facts(half, { temporary, parts: [issued(2)] })).temporary).toBe(true)
    const untightened = [...half, { position: 2, stage: 1, fastener: 2 }]
    expect(fitted(facts(untightened, { temporary, parts: [issued(2)] })).temporary).toBe(true)
    const whole = [...half, ...pass(2, 2, 2)]
    expect(faultsOf(facts(whole, { temporary, parts: [issued(1)] }))).toEqual([
      'temporary_fasteners',
      'new_fasteners_missing',
    ])
    expect(fitted(facts(whole, { temporary, parts: [issued(2)] }))).toMatchObject({ temporary: false, faults: [] })
  })
})

describe('fasteners that may be used again', () => {
  test('freely: nothing is asked', () => {
    expect(fitted(facts(both, { reuse: 'free' }))).toEqual({
      new_fasteners: null,
      fit: null,
      temporary: false,
      faults: [],
    })
  })

  test.each([
    ['nobody looked', [], [], ['fasteners_not_inspected']],
    ['looked at and fit', [{ fit: true }], [], []],
    ['looked at and not fit', [{ fit: false }], [], ['new_fasteners_missing']],
    ['not fit, then fit after all', [{ fit: false }, { fit: true }], [], []],
    ['fit, then not', [{ fit: true }, { fit: false }], [], ['new_fasteners_missing']],
    ['not fit, and new ones', [{ fit: false }], [issued(2)], []],
    ['nobody looked, since they are new', [], [issued(2)], []],
  ])('after inspection: %s', (_, inspections, parts, reasons) => {
    expect(faultsOf(facts(both, { reuse: 'after_inspection', inspections, parts }))).toEqual(reasons)
  })
})

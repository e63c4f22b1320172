import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { chancesLeft, checkChances } from '../../../src/core/strip-down/check-chances.ts'

describe('checkChances', () => {
  it('shrinks each level to the one above with weight 4', () => {
    const [pump, fuse] = checkChances(['pump', 'fuse'], [{ pump: 6, fuse: 2 }, { pump: 1 }, {}])
    const symptom = (6 + 4 / 2) / (8 + 4)
    const family = (1 + 4 * symptom) / (1 + 4)
    expect(pump).toEqual({ cause: 'pump', chance: expect.closeTo(family, 12), n: [6, 1, 0] })
    expect(fuse!.chance).toBeCloseTo(1 - family, 12)
  })

  it('starts equal where nothing was counted, and knows no cause where none was recorded', () => {
    expect(checkChances(['a', 'b', 'c', 'd'], [{}, {}]).map(one => one.chance)).toEqual([0.25, 0.25, 0.25, 0.25])
    expect(checkChances([], [{}])).toEqual([])
  })

  it('adds up to one, and leaves every recorded cause a chance', () => {
    const causes = ['a', 'b', 'constructor']
    const level = fc
      .array(fc.nat(40), { minLength: 3, maxLength: 3 })
      .map(counts => Object.fromEntries(causes.map((cause, at) => [cause, counts[at]!])))
    fc.assert(
      fc.property(fc.array(level, { maxLength: 3 }), levels => {
        const chances = checkChances(causes, levels).map(one => one.chance)
        expect(chances.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 12)
        expect(Math.min(...chances)).toBeGreaterThan(0)
      }),
    )
  })

  it('leaves those that were found fine out, and the others keep their proportions', () => {
    const chances = checkChances(['a', 'b', 'c'], [{ a: 4, b: 2 }])
    const left = chancesLeft(chances, new Set(['a']))
    expect(left.map(one => one.cause)).toEqual(['b', 'c'])
    // b: (2 + 4/3)/10, c: (4/3)/10, of what a leaves
    expect(left[0]!.chance).toBeCloseTo(10 / 14, 12)
    expect(left[1]!.chance).toBeCloseTo(4 / 14, 12)
    expect(chancesLeft(chances, new Set(['a', 'b', 'c']))).toEqual([])
    expect(chancesLeft([{ cause: 'a', chance: 0 }], new Set())).toEqual([{ cause: 'a', chance: 0 }])
  })

  it('refuses counts that are none and causes that were not given', () => {
    expect(() => checkChances(['a'], [{ a: -1 }])).toThrow('checkChances requires counts of zero or more')
    expect(() => checkChances(['a'], [{ b: 1 }])).toThrow('checkChances requires b among the causes')
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { nearNames } from '../../src/core/near-names.ts'

const FAMILIES = ['Corvane Haulette B', 'Corvane Tramp', 'Pikko Tramp 125', 'Pikko Tramp 300', 'Ardeck 650']

describe('nearNames', () => {
  test.each([
    ['two letters exchanged', 'Corvane Trmap', ['Corvane Tramp']],
    ['a letter too few', 'Ardek 650', ['Ardeck 650']],
    ['case, blanks and marks only', 'pikko-tramp  300', ['Pikko Tramp 300', 'Pikko Tramp 125']],
    ['a part of the name', 'Haulette', ['Corvane Haulette B']],
    ['more than the name', 'Corvane Tramp, blue', ['Corvane Tramp']],
    ['nothing like any', 'Sled', []],
    ['marks alone', '--', []],
  ])('%s', (_, typed, near) => {
    expect(nearNames(typed, FAMILIES)).toEqual(near)
  })

  test('at most four, each of them known; a name without one letter of five or more is found', () => {
    fc.assert(
      fc.property(
        fc.array(fc.stringMatching(/^[a-z]{5,20}$/), { minLength: 1, maxLength: 20 }),
        fc.nat(),
        fc.nat(),
        (known, which, where) => {
          const name = known[which % known.length]!
          const at = where % name.length
          const near = nearNames(name.slice(0, at) + name.slice(at + 1), known)
          expect(near.length).toBeLessThanOrEqual(4)
          expect(near.every(each => known.includes(each))).toBe(true)
          expect(near.length).toBeGreaterThan(0)
        },
      ),
    )
  })
})

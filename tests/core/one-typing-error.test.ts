import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { isWithinOneError } from '../../src/core/one-typing-error.ts'

/** The table of the restricted edit distance, filled in whole: its recurrence (Damerau 1964) from memory. */
function distance(one: string, other: string): number {
  const d = Array.from({ length: one.length + 1 }, (_, i) => Array.from({ length: other.length + 1 }, (_, j) => i + j))
  for (let i = 1; i <= one.length; i += 1)
    for (let j = 1; j <= other.length; j += 1) {
      const wrong = one[i - 1] === other[j - 1] ? 0 : 1
      let least = Math.min(d[i - 1]![j]! + 1, d[i]![j - 1]! + 1, d[i - 1]![j - 1]! + wrong)
      if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1])
        least = Math.min(least, d[i - 2]![j - 2]! + 1)
      d[i]![j] = least
    }
  return d[one.length]![other.length]!
}

describe('one typing error', () => {
  test.each([
    ['farrow', 'farrow', true],
    ['farow', 'farrow', true],
    ['farrrow', 'farrow', true],
    ['farraw', 'farrow', true],
    ['fararow', 'farrow', true],
    ['frarow', 'farrow', true],
    ['fraorw', 'farrow', false],
    ['', 'a', true],
    ['', 'ab', false],
  ])('%s for %s: %s', (typed, meant, within) => {
    expect(isWithinOneError(typed, meant)).toBe(within)
  })

  test('is the restricted edit distance up to one', () => {
    const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 7 })
    fc.assert(
      fc.property(word, word, (one, other) => {
        expect(isWithinOneError(one, other)).toBe(distance(one, other) <= 1)
      }),
      { numRuns: 2000 },
    )
  })
})

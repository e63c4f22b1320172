import { describe, expect, test } from 'vitest'
import type { PriorWorkPair } from '../../../src/recurring-failures/contract.ts'
import { pairInShort, pairSentence, whatWouldTell } from '../../../src/recurring-failures/pages/pair-sentence.ts'

const pair = (more: Partial<PriorWorkPair> = {}): PriorWorkPair => ({
  ...{ operation: 'Starter motor: refit', component: 'Ring gear', failure_mode: 'damaged', strata: 2 },
  exposed: { vehicles: 11, events: 5, time: 12 },
  unexposed: { vehicles: 60, events: 6, time: 90 },
  ...{ vehicles_failed: 4, crude_rate_ratio: 6.2, rate_ratio: 6, lower: 2, upper: 17, p: 0.001, q: 0.02 },
  delay: { n: 5, q1: 100, median: 274, q3: 300 },
  by: { us: 2, other: 2, owner: 0, unknown: 1 },
  ...{ mean_cost_minor: null, share_attributed: null, more_time_to_tell: 3, says: 'often', findings_say: 0 },
  ...more,
})

describe('the sentence of a pair', () => {
  test('says on how many vehicles, how much more often, and when', () => {
    expect(pairSentence(pair(), 'days')).toBe(
      'After “Starter motor: refit”, “Ring gear, damaged” was found in 4 of 11 such vehicles: 6.0 times as often as without it (2.0 to 17), typically 9 months later.',
    )
    expect(pairInShort(pair(), 'days')).toMatch(/^Found in 4 of 11 such vehicles: /)
  })

  test.each([
    [1, 'days', '1 day later'],
    [50.4, 'days', '50 days later'],
    [89.6, 'days', '90 days later'],
    [365, 'days', '12 months later'],
    [900, 'days', '2.5 years later'],
    [731, 'days', '2 years later'],
    [640, 'distance', '640 km later'],
    [14_260, 'distance', '14\u00a0000 km later'],
  ] as const)('a middle delay of %s on the clock of %s is %s', (median, clock, words) => {
    expect(pairInShort(pair({ delay: { n: 3, q1: 1, median, q3: 1 } }), clock)).toContain(`, typically ${words}.`)
  })

  test('leaves the delay out where it rests on two, or on none', () => {
    for (const n of [2, 0]) {
      const delay = { n, q1: 1, median: n === 0 ? null : 1, q3: 1 }
      expect(pairInShort(pair({ delay }), 'days')).not.toContain('later')
    }
  })

  test('never without it, and never after it', () => {
    expect(pairInShort(pair({ rate_ratio: null, upper: null, lower: 3.25 }), 'days')).toContain(
      'never without it, at least 3.3 times as often, typically',
    )
    const never = pair({ exposed: { vehicles: 11, events: 0, time: 12 }, vehicles_failed: 0, rate_ratio: 0, lower: 0 })
    expect(pairSentence(never, 'days')).toBe(
      'After “Starter motor: refit”, “Ring gear, damaged” was not found on any of 11 such vehicles; 6 times in 90 vehicle-years without it.',
    )
  })
})

describe('what would tell', () => {
  const notShown = (more: Partial<PriorWorkPair> = {}) => pair({ says: 'not_shown', lower: 0.8, ...more })

  test('so much more time after such work, in vehicle-years or km', () => {
    expect(whatWouldTell(notShown({ more_time_to_tell: 37.4 }), 'days')).toBe(
      'Cannot tell yet: about 37 more vehicle-years after such work would tell, if the ratio stays as it is.',
    )
    expect(whatWouldTell(notShown({ more_time_to_tell: 12_345 }), 'days')).toContain('12\u00a0000 more vehicle-years')
    expect(whatWouldTell(notShown({ more_time_to_tell: 0.043 }), 'days')).toContain('about 0.04 more vehicle-years')
    expect(whatWouldTell(notShown({ more_time_to_tell: 3.74 }), 'distance')).toContain('about 37\u00a0000 more km')
    expect(whatWouldTell(pair({ says: 'may', more_time_to_tell: 5 }), 'days')).toMatch(/^About 5 more vehicle-years/)
  })

  test('nothing where the numbers tell already', () => {
    expect(whatWouldTell(pair(), 'days')).toBeNull()
    expect(whatWouldTell(notShown({ rate_ratio: 0.3, lower: 0.1, upper: 0.9 }), 'days')).toBeNull()
    expect(whatWouldTell(notShown({ more_time_to_tell: 0 }), 'days')).toBeNull()
  })

  test('cannot tell, and why: never after it, never without it, as often', () => {
    const cannot = (more: Partial<PriorWorkPair>) =>
      whatWouldTell(notShown({ more_time_to_tell: null, ...more }), 'days')
    expect(cannot({ rate_ratio: 0, upper: 4 })).toContain('Cannot tell: it has never come after this work')
    expect(cannot({ rate_ratio: null, upper: null })).toBe('Cannot tell: it has never come without this work.')
    expect(cannot({ rate_ratio: 1 })).toBe('Cannot tell: it comes as often without this work as after it.')
  })
})

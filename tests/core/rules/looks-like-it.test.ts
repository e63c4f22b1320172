import { expect, test } from 'vitest'
import { looksLikeIt } from '../../../src/recurring-failures/rules/looks-like-it.ts'

/** Thresholds of our own; that strata can undo a crude ratio is Simpson's paradox. */
test.each([
  ['striking together, nothing within families', 'not_shown', 3.2, 1.1, true],
  ['striking together, and much of it left: too few cases, no decoy', 'not_shown', 3.2, 2.4, false],
  ['shown within families', 'often', 3.2, 3.1, false],
  ['not striking', 'not_shown', 1.6, 1.1, false],
  ['never without it', 'not_shown', null, 1.1, false],
  ['no ratio within families', 'not_shown', 3.2, null, false],
] as const)('%s', (_, says, crude_rate_ratio, rate_ratio, looks) => {
  expect(looksLikeIt({ says, crude_rate_ratio, rate_ratio })).toBe(looks)
})

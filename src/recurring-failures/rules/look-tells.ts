import { type CountedPair, looksLikeIt } from './looks-like-it.ts'

/**
 * Whether a look on every such job would tell something of a pair: the failure comes after the work, or may, more often than
 * without it. Where it comes as seldom, or the families alone make the pair, there is nothing to look for.
 */
export function lookTells(pair: CountedPair): boolean {
  if (pair.says !== 'not_shown') return true
  return (pair.rate_ratio === null || pair.rate_ratio > 1) && !looksLikeIt(pair)
}

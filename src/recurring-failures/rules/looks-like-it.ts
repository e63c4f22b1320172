/** What a pair says, counted together and within families. */
export interface CountedPair {
  says: 'often' | 'may' | 'not_shown'
  crude_rate_ratio: number | null
  rate_ratio: number | null
}

/** From here on somebody who counts would take notice. */
const STRIKING = 2
/** Up to here there is little left to explain. */
const LITTLE_LEFT = 1.5

/**
 * A pair that strikes the eye when all families are counted together, and of which next to nothing is left when vehicles of
 * the same family are compared: some families have more of the work and more of the failure. A pair of which much is left but
 * too few cases to show it is none of these.
 */
export function looksLikeIt({ says, crude_rate_ratio, rate_ratio }: CountedPair): boolean {
  if (says !== 'not_shown' || crude_rate_ratio === null || rate_ratio === null) return false
  return crude_rate_ratio >= STRIKING && rate_ratio <= LITTLE_LEFT
}

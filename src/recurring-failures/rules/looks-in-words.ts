import type { Severity } from '../../core/vocabulary.ts'

/** Whose looks a chance rests on. */
export interface CountedLooks {
  n_looked: number
  n_looked_all: number
  n_bad_all: number
  counted_on: 'variant' | 'family'
  borrows: boolean
}

/** On what a chance rests beside the looks on this family: whose numbers are borrowed is said. */
export function looksInWords({ n_looked, n_looked_all, n_bad_all, counted_on, borrows }: CountedLooks): string {
  if (!borrows) return counted_on === 'variant' ? 'looks on this variant' : ''
  if (n_looked_all === 0) return 'nobody has looked yet: an even chance'
  return n_looked_all === n_looked
    ? 'few looks, and none on other families'
    : `from all families: ${n_bad_all} of ${n_looked_all}`
}

/** What is asked for and why: money never argues against safety. */
export function askInWords({
  severity,
  asked_for,
  chance_worth_it,
}: {
  severity: Severity
  asked_for: boolean
  chance_worth_it: number
}): { ask: string; note: string } {
  if (severity === 'safety') return { ask: 'Always\u00a0look', note: 'safety' }
  return { ask: asked_for ? 'Look' : 'Leave it', note: `${Math.round(chance_worth_it * 100)} % sure` }
}

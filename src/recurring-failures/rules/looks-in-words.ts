import type { Severity } from '../../core/vocabulary.ts'

/** Whose looks a chance rests on. */
export interface CountedLooks {
  n_looked: number
  n_bad: number
  n_looked_all: number
  n_bad_all: number
  counted_on: 'variant' | 'family'
  borrows: boolean
}

/** '1 of 3', and on what beyond this family that rests: whose numbers are borrowed is said. */
export function looksInWords(looks: CountedLooks): { count: string; note: string } {
  const { n_looked, n_bad, n_looked_all, n_bad_all, counted_on, borrows } = looks
  const count = `${n_bad} of ${n_looked}`
  if (!borrows) return { count, note: counted_on === 'variant' ? 'on this variant' : '' }
  if (n_looked_all === 0) return { count, note: 'nobody has looked yet: an even chance' }
  const others =
    n_looked_all === n_looked ? 'few, and none on other families' : `from all families: ${n_bad_all} of ${n_looked_all}`
  return { count, note: others }
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

import { distance } from 'fastest-levenshtein'
import { fold } from './fold.ts'

/** So many wrong letters are a typing error in any name; a longer name may have more. */
const WRONG_LETTERS = 2
const WRONG_SHARE = 0.3
/** A part of a name says something only when it is this long. */
const LEAST_PART = 3
const SHOWN = 4

/**
 * The known names that a typed one may have been meant as, nearest first, at most four: a few letters differ (Levenshtein
 * distance without case, accents, blanks and marks), or one is part of the other.
 *
 * @example nearNames('Corvane Trmap', ['Pikko 50', 'Corvane Tramp']) // ['Corvane Tramp']
 */
export function nearNames(typed: string, known: readonly string[]): string[] {
  const key = fold(typed)
  if (key === '') return []
  return known
    .flatMap(name => {
      const other = fold(name)
      const letters = distance(key, other)
      const allowed = Math.max(WRONG_LETTERS, Math.floor(Math.max(key.length, other.length) * WRONG_SHARE))
      const isNear = letters <= allowed && letters < key.length
      return isNear || isPart(key, other) ? [{ name, letters }] : []
    })
    .sort((one, other) => one.letters - other.letters || one.name.localeCompare(other.name))
    .slice(0, SHOWN)
    .map(({ name }) => name)
}

function isPart(one: string, other: string): boolean {
  const [part, whole] = one.length <= other.length ? [one, other] : [other, one]
  return part.length >= LEAST_PART && whole.includes(part)
}

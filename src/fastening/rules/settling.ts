import type { SIGNING_AS } from '../../core/vocabulary.ts'

/** What somebody has said of a doubt. `as` is null where one word settles it. */
export interface Word {
  as: (typeof SIGNING_AS)[number] | null
}

/** What has been said of one doubt: the word that stands, a second person's beside it, and whether that settles it. */
export interface Said<W extends Word> {
  word: W
  second: W | null
  settles: boolean
}

/**
 * What the words on one doubt come to, given oldest first; null for none. Where safety hangs on the joint, the first word
 * settles nothing until a second person has looked too.
 */
export function said<W extends Word>(words: readonly W[]): Said<W> | null {
  const word = words.find(each => each.as === null) ?? words[0]
  if (word === undefined) return null
  const second = words.find(each => each.as === 'second_person') ?? null
  return { word, second, settles: word.as === null || second !== null }
}

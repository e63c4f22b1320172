/**
 * Whether two words are the same but for one typing error: a letter too many, missing or wrong, or two neighbours swapped
 * (the restricted edit distance of Damerau 1964, Comm. ACM 7(3), is 0 or 1). Time: the length of the shorter word.
 *
 * @example isWithinOneError('farow', 'farrow') // true
 */
export function isWithinOneError(one: string, other: string): boolean {
  const [short, long] = one.length <= other.length ? [one, other] : [other, one]
  const more = long.length - short.length
  if (more > 1) return false
  let at = 0
  while (at < short.length && short[at] === long[at]) at += 1
  const rest = (word: string, from: number) => word.slice(from)
  if (more === 1) return rest(short, at) === rest(long, at + 1)
  if (rest(short, at + 1) === rest(long, at + 1)) return true
  const isSwapped = short[at] === long[at + 1] && short[at + 1] === long[at]
  return isSwapped && rest(short, at + 2) === rest(long, at + 2)
}

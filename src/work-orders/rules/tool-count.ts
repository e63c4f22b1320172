import { countWord } from '../../core/words.ts'

/** A tool that was counted out and did not come out whole; both null while nobody has said so. */
interface Counted {
  count: number
  /** How many came out of `count`. */
  out_count: number | null
  may_be: string | null
}

/** '4 of 5 out, one lost; where it may be: in the sump'; null when nothing of it is lost. */
export function missingWords({ count, out_count, may_be }: Counted): string | null {
  if (out_count === null || may_be === null) return null
  const lost = count - out_count
  return `${out_count} of ${count} out, ${countWord(lost)} lost; where ${lost === 1 ? 'it' : 'they'} may be: ${may_be}`
}

/** Only the owner may say that what did not come out is not in the vehicle. */
export function maySayNotInside(role: string): boolean {
  return role === 'owner' || role === 'command line'
}

const ORDINALS = ['first', 'second', 'third', 'fourth', 'fifth', 'sixth', 'seventh', 'eighth', 'ninth', 'tenth']

/** What is wrong with a count of things taken out, in words; null when as many came out as went in. */
export function countFault(wentIn: number, cameOut: number): string | null {
  if (cameOut === wentIn) return null
  const said = `${wentIn} went in, ${cameOut} came out`
  const missing = wentIn - cameOut
  if (missing < 0) return `${said}: count again.`
  if (missing > 1) return `${said}: find the other ${countWord(missing)}.`
  return `${said}: find the ${ORDINALS[wentIn - 1] ?? 'last one'}.`
}

import { countWord } from '../../core/words.ts'

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

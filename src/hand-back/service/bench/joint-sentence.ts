import { inText } from '../../../core/words.ts'
import type { JointStanding } from '../../../fastening/index.ts'
import type { Stamp } from './stamp.ts'

/** Where a joint stands; of one that was left half way first by whom, when and why, since somebody else takes it up. */
export function jointSentence({ left, sentence, sentence_but_left }: JointStanding, stamp: Stamp): string {
  return left === null ? sentence : `left half way (${stamp(left)}): ${inText(left.reason)}; ${sentence_but_left}`
}

import { capital, countWord, listed } from '../../../core/words.ts'
import type { FastenerView, JointInput } from './joint.ts'

/**
 * A head's accessible name: what it is, and everything its marks show. It holds the words of the drawing in their order
 * ("4, next"), so that whoever speaks to the tablet can say what is written there.
 */
export function headLabel(fastener: FastenerView, joint: JointInput): string {
  const name = `${capital(joint.word)} ${fastener.number}`
  const stage = `stage ${fastener.at_stage}`
  switch (fastener.state) {
    case 'complete':
      return `${name}, every stage conforms`
    case 'next':
      return `${name}, next, ${stage}`
    case 'redo':
      return `${name}, redo, ${stage}: ${fastener.fault ?? 'outside its limits'}`
    case 'unsure':
      return `${name}, unsure, ${stage}: ${fastener.fault ?? 'within the uncertainty of a limit'}`
    case 'old':
      return `${name}, old, temporary: to be replaced by a new one`
    case 'waiting':
      return fastener.bars > 0 ? `${name}, ${fastener.bars} of ${joint.stages} stages conform` : `${name}, not yet`
  }
}

/** The joint in sentences, for whoever cannot see the drawing. `shape` says how the places lie, when that is simple. */
export function describeJoint(joint: JointInput, shape: string | null): string {
  const numbers = (state: FastenerView['state']): number[] =>
    joint.fasteners
      .filter(fastener => fastener.state === state)
      .map(fastener => fastener.number)
      .sort((one, other) => one - other)
  const said = [
    `${capital(countWord(joint.fasteners.length))} ${plural(joint.word, joint.fasteners.length)}${shape === null ? '' : ` ${shape}`}, numbered in tightening order.`,
    about(
      joint,
      numbers('complete'),
      'carries the witness mark: every stage conforms',
      'carry the witness mark: every stage conforms',
    ),
    about(joint, numbers('redo'), 'is a broken ring with the word redo', 'are broken rings with the word redo'),
    about(joint, numbers('unsure'), 'is a broken ring with the word unsure', 'are broken rings with the word unsure'),
    about(joint, numbers('old'), 'is a broken ring with the word old', 'are broken rings with the word old'),
    about(joint, numbers('next'), 'is filled: it is next', 'are filled: they are next'),
    about(joint, numbers('waiting'), 'waits', 'wait'),
  ]
  return said.filter(sentence => sentence !== '').join(' ')
}

function about(joint: JointInput, numbers: number[], one: string, several: string): string {
  if (numbers.length === 0) return ''
  const named = `${capital(plural(joint.word, numbers.length))} ${listed(numbers.map(String))}`
  return `${named} ${numbers.length === 1 ? one : several}.`
}

function plural(word: string, count: number): string {
  return count === 1 ? word : `${word}s`
}

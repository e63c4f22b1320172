import { adapter, reachesFastener } from '../../core/fastening/adapter.ts'
import { type Preload, preload } from '../../core/fastening/preload.ts'
import { isPropertyClass, PROPERTY_CLASSES } from '../../core/fastening/proof-stress.ts'
import { sequence } from '../../core/fastening/sequence.ts'
import { leavesRoot } from '../../core/fastening/thread.ts'
import { type MeasuredVerdict, verdict } from '../../core/fastening/verdict.ts'
import { invalid } from '../../platform/problems.ts'
import { together } from '../../platform/together.ts'
import type { AdapterQuestion, PreloadQuestion, SequenceQuestion, VerdictQuestion } from '../contract.ts'

/*
 * The computations of fastening for anybody who asks. What the contract cannot say, since it hangs on two fields, is refused
 * here in words and at its field: core would throw.
 */

/** 422 when the limits are crossed. */
export function answerVerdict(question: VerdictQuestion): MeasuredVerdict {
  const { lower, upper } = question
  if (lower > upper) throw doesNotFit('/lower', `The lower limit ${lower} lies above the upper limit ${upper}.`)
  return verdict(question)
}

/** 422 for a rectangle without rows, or of so many that the fasteners cannot stand in equal ones. */
export function answerSequence(question: SequenceQuestion): number[] {
  const { layout, count, rows } = question
  if (layout === 'rectangle') {
    if (rows === undefined) {
      throw invalid({ pointer: '/rows', detail: 'A rectangle needs its number of rows.', code: 'missing' })
    }
    if (count % rows !== 0) throw doesNotFit('/rows', `${count} fasteners cannot stand in ${rows} equal rows.`)
  }
  return sequence(question)
}

/** What to set the wrench to, in N·m. 422 when the adapter reaches back past the hand. */
export function answerAdapter(question: AdapterQuestion): number {
  if (reachesFastener(question)) return adapter(question)
  throw doesNotFit(
    '/angle_deg',
    `At this angle an adapter of ${question.adapter_length_mm} mm reaches back past the hand at ${question.wrench_length_mm} mm. Look at angle and lengths.`,
  )
}

/** 422 for a class without a proof stress, and for a pitch too coarse for its diameter. */
export function answerPreload(question: PreloadQuestion): Preload {
  together({
    class: () => refuseUnknownClass(question),
    pitch: () => refuseNoRoot(question),
  })
  return preload(question)
}

function refuseUnknownClass({ class: strength }: PreloadQuestion): void {
  if (isPropertyClass(strength)) return
  const detail = `“${strength}” has no proof stress in ISO 898-1. Known are ${PROPERTY_CLASSES.join(', ')}.`
  throw invalid({ pointer: '/class', detail, code: 'unknown' })
}

function refuseNoRoot({ diameter_mm, pitch_mm }: PreloadQuestion): void {
  if (leavesRoot(diameter_mm, pitch_mm)) return
  const detail = `A thread of ${diameter_mm} mm with a pitch of ${pitch_mm} mm has no metal left in it. Look at both.`
  throw doesNotFit('/pitch_mm', detail)
}

function doesNotFit(pointer: string, detail: string) {
  return invalid({ pointer, detail, code: 'does_not_fit' })
}

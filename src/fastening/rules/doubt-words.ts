import type { CalendarDate } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import type { DoubtCause } from '../../core/vocabulary.ts'
import { countWord, inText } from '../../core/words.ts'

/** A cause of doubt in words. */
export interface CauseWords {
  /** What it is, to be counted under: "wrench W-07". */
  because: string
  /** What happened, without the full stop: the heading of what it put in doubt. */
  what: string
  /** What that means for a joint, after its name. */
  at_joint: string
  /** The same for whoever owns the vehicle: no person, and nothing of how it came about. `place`: the joint and its order. */
  to_customer(place: string): string
}

/** A reason as somebody typed it, at the end of a sentence of ours. */
function reasonWords(reason: string): string {
  return reason.replace(/[.\s]+$/, '')
}

export function outsideWords(kind: 'wrench' | 'gauge', name: string, on: CalendarDate): CauseWords {
  const found = `was found outside its limits on ${longDay(on)}`
  const isWrench = kind === 'wrench'
  return {
    because: `${kind} ${name}`,
    what: `${isWrench ? 'Wrench' : 'Gauge'} ${name} ${found}`,
    at_joint: `${kind} ${name}, ${isWrench ? 'which tightened it' : 'by which its angle was read'}, ${found}`,
    to_customer: place =>
      isWrench
        ? `The torque wrench that tightened the ${place} was later found outside its limits.`
        : `The gauge by which the ${place} was tightened was later found outside its limits.`,
  }
}

/** `when`: the moment of the drop, in the workshop's own time. */
export function dropWords(name: string, when: string, reason: string): CauseWords {
  return {
    because: `wrench ${name}`,
    what: `Wrench ${name} was used after it had to be out of use, from ${when}: ${reasonWords(reason)}`,
    at_joint: `wrench ${name}, which tightened it, should have been out of use since ${when}: ${reasonWords(reason)}`,
    to_customer: place => `The torque wrench that tightened the ${place} should have been checked before it was used.`,
  }
}

export function batchWords(
  part: { name: string; number: string },
  batch: string,
  on: CalendarDate,
  reason: string,
): CauseWords {
  const found = `was found bad on ${longDay(on)}: ${reasonWords(reason)}`
  return {
    because: `batch ${batch} of ${part.name}`,
    what: `Batch ${batch} of ${part.name}, ${part.number}, ${found}`,
    at_joint: `it got some of batch ${batch} of ${part.name}, which ${found}`,
    to_customer: place =>
      `What we fitted to the ${place} is of a batch that was later found bad: ${inText(part.name)}.`,
  }
}

export function procedureWords(name: string, revision: number, on: CalendarDate, reason: string): CauseWords {
  const found = `was found wrong on ${longDay(on)}: ${reasonWords(reason)}`
  return {
    because: `revision ${revision} of ${name}`,
    what: `Revision ${revision} of the procedure ${name} ${found}`,
    at_joint: `revision ${revision} of ${name}, by which it was tightened, ${found}`,
    to_customer: place => `The instructions by which we tightened the ${place} were later found to be wrong.`,
  }
}

export function correctionWords(reason: string): CauseWords {
  return {
    because: 'a record put right after the vehicle had left',
    what: `A record was put right after the vehicle had left: ${reasonWords(reason)}`,
    at_joint: `a record of it was put right after the vehicle had left: ${reasonWords(reason)}`,
    to_customer: place => `Our record of the ${place} was put right after the vehicle had left.`,
  }
}

/** "Tensioner arm on work order 2031-0188: wrench W-07, which tightened it, was found outside …." */
export function jointSentence(joint: string, order: string, cause: CauseWords): string {
  return `${joint} on work order ${order}: ${cause.at_joint}.`
}

/** A joint and where it hangs, in the middle of a sentence. */
export function placeWords(joint: string, order: string): string {
  return `${inText(joint)} (work order ${order})`
}

const BEFORE_SIGNING: Record<DoubtCause, string> = {
  wrench: 'Tighten anew what it tightened, or check the torque, and settle the doubt first',
  batch: 'Fit fasteners of another batch, with all their stages, and settle the doubt first',
  procedure: 'Check it by the right values, and settle the doubt first',
  correction: 'Look at it, and settle the doubt first',
}

/** Why a joint that is in doubt is not signed anew, and what comes first. */
export function beforeSigning(
  { cause, at_joint }: Pick<CauseWords, 'at_joint'> & { cause: DoubtCause },
  { redone, waits_for_second_person }: { redone: boolean; waits_for_second_person: boolean },
): string {
  const todo = waits_for_second_person
    ? 'A second person looks, and settles the doubt first'
    : redone
      ? 'It was done anew since: settle the doubt first'
      : BEFORE_SIGNING[cause]
  return `It is in doubt: ${at_joint}. ${todo}.`
}

/** A part whose joint nobody named. */
export function partSentence(part: string, order: string, cause: CauseWords): string {
  return `${part} on work order ${order}, part fitted, no joint named: ${cause.what.charAt(0).toLowerCase()}${cause.what.slice(1)}.`
}

/** What a person said of a doubt; `by` is null when nobody with a name did, `checked_with` a wrench by name. */
export interface WordTold {
  how: string
  note: string | null
  by: string | null
  checked_with: string | null
}

export interface DoubtTold {
  sentence: string
  from_on: CalendarDate
  /** The day it was settled; null while it is open. */
  to_on: CalendarDate | null
  /** How it was settled, or what the first of two people has said; null when nobody has said anything. */
  word: WordTold | null
  /** Who looked too, where two people settle it. */
  second: { how: string; by: string | null } | null
}

/** "In doubt from 3 May 2031 to 9 May 2031: …; settled by Tobin Rask: looked at." What the history says for good. */
export function doubtTold({ sentence, from_on, to_on, word, second }: DoubtTold): string {
  const about = sentence.replace(/\.$/, '')
  if (to_on === null) {
    const since = `In doubt since ${longDay(from_on)}: ${about}.`
    if (word === null) return `${since} Nobody has settled it yet.`
    return `${since} ${word.by ?? 'Somebody'} has said: ${wordWords(word)}. A second person settles it.`
  }
  const span = from_on === to_on ? `on ${longDay(from_on)}` : `from ${longDay(from_on)} to ${longDay(to_on)}`
  const who = word?.by == null ? 'settled' : `settled by ${word.by}`
  const how = word === null ? '' : `: ${wordWords(word)}`
  const too =
    second === null
      ? ''
      : `; ${['second person', second.by].flatMap(part => part ?? []).join(' ')}: ${reasonWords(second.how)}`
  return `In doubt ${span}: ${about}; ${who}${how}${too}.`
}

function wordWords({ how, note, checked_with }: WordTold): string {
  const checked = checked_with === null ? null : `Torque checked with wrench ${checked_with}`
  return [how, checked, note].flatMap(text => (text === null ? [] : reasonWords(text))).join('. ')
}

/** "Five bolted joints on four vehicles are in doubt, two of them a matter of safety." Null when nothing is. */
export function briefly(open: { joints: number; safety: number; parts: number; vehicles: number }): string | null {
  const { joints, safety, parts, vehicles } = open
  if (joints + parts === 0) return null
  const things = [
    ...(joints === 0 ? [] : [`${countWord(joints)} bolted ${joints === 1 ? 'joint' : 'joints'}`]),
    ...(parts === 0 ? [] : [`${countWord(parts)} fitted ${parts === 1 ? 'part' : 'parts'}`]),
  ].join(' and ')
  const where = `${countWord(vehicles)} ${vehicles === 1 ? 'vehicle' : 'vehicles'}`
  const hurts = safety === 0 ? '' : `, ${countWord(safety)} of them a matter of safety`
  return `${things.charAt(0).toUpperCase()}${things.slice(1)} on ${where} ${joints + parts === 1 ? 'is' : 'are'} in doubt${hurts}.`
}

import { counted } from '../../core/words.ts'
import type { PriorWork, PriorWorkPair } from '../contract.ts'
import { lookTells } from '../rules/look-tells.ts'
import { looksLikeIt } from '../rules/looks-like-it.ts'
import { whatWouldTell } from './pair-sentence.ts'

/** What is said of a pair beside its numbers, in its row and on its page alike. */
export interface PairWords {
  /** That the eye takes it for a pair, and that it is none. */
  decoy: string | null
  would_tell: string | null
  /** What people have said of the cause; null where nobody has. */
  people: string | null
  /** What all of it comes to, and what would settle it. */
  evidence: string
}

const NO_PART = 'What people say is no part of the numbers.'

/** @param confirmed how many comebacks of the work with the failure a person has confirmed. */
export function pairWords(pair: PriorWorkPair, clock: PriorWork['clock'], confirmed: number): PairWords {
  const people = peopleSay(pair.findings_say, confirmed)
  return {
    decoy: looksLikeIt(pair)
      ? 'Looks like it only because some families have more of both: compared within the same family it is not shown.'
      : null,
    would_tell: whatWouldTell(pair, clock),
    people,
    evidence: [association(pair), ...(people === null ? [] : [people, NO_PART]), settles(pair)].join(' ').trim(),
  }
}

/** Of a pair that has too few failures to be tested. */
export function untestedEvidence(confirmed: number): string {
  const people = peopleSay(0, confirmed)
  return ['That says nothing of a cause yet.', ...(people === null ? [] : [people]), LOOK_EACH_UP].join(' ')
}

function association({ says, findings_say }: PriorWorkPair): string {
  if (says === 'not_shown') return 'The numbers do not show that it follows such work.'
  return findings_say === 0
    ? 'That is an association, not yet a cause. No finding names this work as the cause yet.'
    : 'The numbers are an association.'
}

const LOOK_EACH_UP = 'Look each of them up: a finding that says what caused it settles more than the numbers can.'

function settles(pair: PriorWorkPair): string {
  if (!lookTells(pair)) return ''
  return pair.says === 'not_shown'
    ? LOOK_EACH_UP
    : 'What would settle it: a look at it on every such job, and a finding that says what was seen.'
}

function peopleSay(findings: number, confirmed: number): string | null {
  const said = [
    ...(findings === 0 ? [] : [findingsSay(findings)]),
    ...(confirmed === 0
      ? []
      : [
          `${counted(confirmed, 'comeback')} of such work with this failure ${confirmed === 1 ? 'is' : 'are'} confirmed by a person.`,
        ]),
  ]
  return said.length === 0 ? null : said.join(' ')
}

/** Direct evidence, which only a person can give. */
function findingsSay(count: number): string {
  return count === 1
    ? 'A finding says that it was caused by this work.'
    : `${count} findings say that it was caused by this work.`
}

import { link, type Words, words } from '../../platform/pages/words.ts'
import type { Flag, FlagReason } from '../rules/flags.ts'

const WORDS: Record<FlagReason, string> = {
  suspected_comeback: 'Ours, back?',
  comeback_to_be: 'Ours, back?',
  joint_in_doubt: 'Caution',
  part_in_doubt: 'Caution',
  tool_still_in: 'Caution',
  safety_finding: 'Caution',
  warranty_running: 'Warranty',
  left_for_later: 'Left for later',
  others_work: 'Others’ work',
  odometer: 'Odometer',
}

const LEADS: Record<FlagReason, string> = {
  suspected_comeback: 'Open the suspicion',
  comeback_to_be: 'The earlier work',
  joint_in_doubt: 'The joint',
  part_in_doubt: 'That work order',
  tool_still_in: 'That work order',
  safety_finding: 'Where it was found',
  warranty_running: 'That work order',
  left_for_later: 'Where it was found',
  others_work: 'Its whole life',
  odometer: 'Its readings',
}

const HURTS: readonly FlagReason[] = ['joint_in_doubt', 'part_in_doubt', 'tool_still_in', 'safety_finding']

export interface SentenceView {
  word: string
  text: Words
  why: Words
  hurts: boolean
  foremost: boolean
}

/** What the record says, as the customer may read it: no chance, no person, no price of ours. A suspicion only the owner opens. */
export function flagSentences(flags: readonly Flag[], isOwner: boolean): SentenceView[] {
  return flags.map(({ reason, sentence, because, href }) => ({
    word: WORDS[reason],
    text: sentence,
    why:
      reason === 'suspected_comeback' && !isOwner
        ? `${because} The owner decides.`.trim()
        : words(because === '' ? '' : `${because} `, link(href, LEADS[reason])),
    hurts: HURTS.includes(reason),
    foremost: reason === 'suspected_comeback' || reason === 'comeback_to_be',
  }))
}

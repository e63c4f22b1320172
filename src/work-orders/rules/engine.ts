import type { EngineTurn } from '../../core/vocabulary.ts'

/**
 * The newest turn by hand that still counts: made after the last step of the order was opened, whichever job opened it.
 * Ids grow with time, so they decide inside one millisecond. Undefined when there is none.
 */
export function standingHandTurn<Turn extends { id: string; how: EngineTurn }>(
  turns: readonly Turn[],
  openings: readonly { id: string }[],
): Turn | undefined {
  return turns.findLast(turn => turn.how === 'by_hand' && openings.every(opening => opening.id < turn.id))
}

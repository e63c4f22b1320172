import type { Bearer, ComebackVerdict, SuspicionReason } from '../../core/vocabulary.ts'
import { link, type Piece, ref, words } from '../../platform/pages/words.ts'
import type { JobTitle, StayTitle } from '../service/told.ts'

export const SAYS: Record<ComebackVerdict, string> = { confirmed: 'Comeback', ruled_out: 'Ruled out' }
export const BEARS: Record<Bearer, string> = {
  us: 'we do',
  supplier: 'supplier',
  customer: 'customer',
  shared: 'shared',
}

/** What a reason hangs on, as the hanging word of its sentence. */
export const REASONS: Record<SuspicionReason, string> = {
  same_symptom: 'Symptom',
  same_component: 'Component',
  disturbed: 'Strip-down',
  known_pair: 'Known pair',
  open_nonconformity: 'In doubt',
}

/** The ready answers, in words. */
export function category(word: string): string {
  return word.replaceAll('_', ' ')
}

export function stayLink({ id, number }: StayTitle): Piece {
  return link(`/work-orders/${encodeURIComponent(id)}`, ref(number))
}

/** "“Final drive belt: renew” (2031-0188)", the number being a link. */
export function jobWords({ task, order_id, order_number }: JobTitle): Piece[] {
  if (order_id === null || order_number === null) return words(`“${task}” (imported history)`)
  return words(`“${task}” (`, link(`/work-orders/${encodeURIComponent(order_id)}`, ref(order_number)), ')')
}

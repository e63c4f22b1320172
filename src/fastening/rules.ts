import type { JointState } from '../core/fastening/stages.ts'
import type { Severity } from '../core/vocabulary.ts'

/** A record or a sign-off in its place in time: ids sort by creation, so the id decides inside one millisecond. */
interface Dated {
  id: string
  created_at: number
  created_by: string | null
}

interface Signature extends Dated {
  as: 'technician' | 'second_person'
  same_person_after_minutes: number | null
}

type InTime = Pick<Dated, 'id' | 'created_at'>

/** Whether one was written down after the other. */
export function isLater(one: InTime, other: InTime): boolean {
  return one.created_at > other.created_at || (one.created_at === other.created_at && one.id > other.id)
}

/** A joint on which safety hangs is signed by two people; the second looks at marks, count and stripe, and turns nothing. */
export function needsSecondPerson(severity: Severity): boolean {
  return severity === 'safety'
}

/** The sign-offs that still stand: those given after the newest record of the joint. Any later record un-signs it. */
export function standingSignatures<T extends Signature>(signatures: readonly T[], records: readonly Dated[]): T[] {
  return signatures.filter(signature => records.every(record => isLater(signature, record)))
}

/**
 * Whether the joint is signed: complete, signed by a technician since its newest record, and where safety hangs on it also
 * by a second person who is another than whoever signed first, or who was allowed to look again after a while.
 */
export function isSigned(
  state: JointState,
  severity: Severity,
  signatures: readonly Signature[],
  records: readonly Dated[],
): boolean {
  if (!state.complete) return false
  const standing = standingSignatures(signatures, records)
  const first = standing.filter(signature => signature.as === 'technician')
  if (first.length === 0) return false
  if (!needsSecondPerson(severity)) return true
  const second = standing.filter(signature => signature.as === 'second_person')
  return second.some(
    looker =>
      looker.same_person_after_minutes !== null || first.some(signer => signer.created_by !== looker.created_by),
  )
}

/** Who may not be the second person: whoever signed first, and whoever tightened any of it. */
export function mayLookAgain(
  personId: string | null,
  signatures: readonly Signature[],
  records: readonly Dated[],
): boolean {
  const first = standingSignatures(signatures, records).filter(signature => signature.as === 'technician')
  return ![...first, ...records].some(act => act.created_by === personId)
}

/**
 * One-person workshop: from when (in milliseconds) whoever tightened may look again as second person, so many minutes after
 * the first signature. Null where the workshop does not allow it (`afterMinutes` is undefined), or nobody has signed yet.
 */
export function lookAgainFrom(
  signatures: readonly Signature[],
  records: readonly Dated[],
  afterMinutes: number | undefined,
): number | null {
  const first = standingSignatures(signatures, records).find(signature => signature.as === 'technician')
  return afterMinutes === undefined || first === undefined ? null : first.created_at + afterMinutes * 60_000
}

const TALLY_WORDS = {
  stage_missing: 'still to tighten',
  redo: 'to do again',
  unsure: 'unsure',
  replace: 'to replace',
} as const

/** "2 of 6 still to tighten, 1 to do again": why a joint cannot be signed, in words. */
export function stateInWords(state: JointState): string {
  const count = state.fasteners.length
  if (state.complete) return count === 1 ? 'its fastener is done' : `all ${count} are done`
  const tally = new Map<string, number>()
  for (const { reason } of state.incomplete) tally.set(TALLY_WORDS[reason], (tally.get(TALLY_WORDS[reason]) ?? 0) + 1)
  return [...tally].map(([words, n], at) => (at === 0 ? `${n} of ${count} ${words}` : `${n} ${words}`)).join(', ')
}

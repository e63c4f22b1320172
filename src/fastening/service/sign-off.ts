import { settingsOf } from '../../accounts/index.ts'
import { SECOND_LOOKS } from '../../core/vocabulary.ts'
import { inText, listed } from '../../core/words.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { SignOff, SignOffInput } from '../contract.ts'
import { insertSignOff, type SignOffRow } from '../queries.ts'
import { lookAgainFrom, mayLookAgain, standingSignatures, stateInWords } from '../rules.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'
import { refuseLeft, when } from './refusals.ts'
import { fastenersToDo, signingBlockers } from './signing-blockers.ts'

/**
 * A person states that a joint is complete (T). As second person: another than whoever signed first or tightened any of it,
 * or in a one-person workshop the same after the time that the settings say. A second person looks and turns nothing.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back, joint-left, joint-incomplete (with blockers), same-person,
 * look-again-too-soon, already-signed, invalid-input.
 */
export function signOffJoint(ctx: Context, jointId: string, input: SignOffInput): SignOff {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    const { row } = joint
    if (row.handed_back_at !== null)
      throw problem('work-order-handed-back', { detail: `Work order ${row.order_number} has been handed back.` })
    refuseLeft(ctx, joint)
    refuseHalfLooked(input)
    refuseBlocked(ctx, joint)
    const record = newRecord(ctx)
    const same_person_after_minutes = samePersonAfter(ctx, joint, input, record)
    if (standingSignatures(joint.sign_offs, joint.records).some(signature => signature.as === input.as))
      throw problem('already-signed', { detail: `${row.joint.name} is signed already, and nothing has changed since.` })
    const signOff: SignOffRow = {
      ...record,
      ...{ joint_id: jointId, as: input.as, looked_at: input.looked_at ?? null, same_person_after_minutes },
    }
    insertSignOff(tx, signOff)
    recordEvent(ctx, tx, { action: 'joint.signed-off', table: 'sign_offs', id: signOff.id })
    return signOffToWire(signOff)
  })
}

function refuseBlocked(ctx: Context, joint: LoadedJoint): void {
  const beside = signingBlockers(ctx, joint)
  const blockers = [...fastenersToDo(joint), ...beside]
  if (blockers.length === 0) return
  const clauses = beside.map(({ sentence }) => inText(sentence.replace(/\.$/, '')))
  throw problem('joint-incomplete', {
    detail: `${joint.row.joint.name} cannot be signed: ${[stateInWords(joint.state), ...clauses].join('; ')}.`,
    extra: { blockers },
  })
}

/** What a second person looked at is said whole, or not at all. */
function refuseHalfLooked({ as, looked_at }: SignOffInput): void {
  if (looked_at === undefined) return
  const fault = (detail: string) => invalid({ pointer: '/looked_at', detail, code: 'does_not_fit' })
  if (as === 'technician') throw fault('Only the second person says what was looked at.')
  const missing = SECOND_LOOKS.filter(look => !looked_at.includes(look))
  if (missing.length > 0)
    throw fault(`Look at the ${listed(missing)} too, and say so; a second look is all three. Nothing is turned.`)
}

/** Null for another person; else the minutes since the first signature, where the workshop allows that at all. */
function samePersonAfter(
  ctx: Context,
  { sign_offs, records, row }: LoadedJoint,
  { as }: SignOffInput,
  { created_by, created_at }: { created_by: string | null; created_at: number },
): number | null {
  if (as === 'technician') {
    const looked = standingSignatures(sign_offs, records).filter(signature => signature.as === 'second_person')
    if (!looked.some(signature => signature.created_by === created_by)) return null
    throw problem('same-person', {
      detail: `You have looked at ${row.joint.name} as the second person; somebody else signs that it is done.`,
    })
  }
  if (mayLookAgain(created_by, sign_offs, records)) return null
  const { look_again_after_minutes: minutes } = settingsOf(ctx)
  const from = lookAgainFrom(sign_offs, records, minutes)
  if (from === null || minutes === undefined)
    throw problem('same-person', {
      detail:
        'The second person must be another than whoever tightened it or signed first: another person, with a login of their own.',
    })
  if (created_at < from)
    throw problem('look-again-too-soon', {
      detail: `Whoever tightened ${row.joint.name} may look again ${when(ctx, from)}, ${minutes} minutes after the first signature.`,
      extra: { from: toInstant(from) },
    })
  return Math.floor((created_at - from) / 60_000) + minutes
}

export function signOffToWire(row: SignOffRow): SignOff {
  const { id, created_at, created_by, joint_id, as, looked_at, same_person_after_minutes } = row
  return {
    ...{ id, created_at: toInstant(created_at), created_by, joint_id, as },
    ...withoutNulls({ looked_at, same_person_after_minutes }),
  }
}

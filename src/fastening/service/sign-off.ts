import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { SignOff, SignOffInput } from '../contract.ts'
import { insertSignOff, type SignOffRow } from '../queries.ts'
import { mayLookAgain, standingSignatures, stateInWords } from '../rules.ts'
import { type LoadedJoint, loadJoint } from './joints.ts'

/**
 * A person states that a joint is complete (T). As second person: another than whoever signed first or tightened any of it.
 *
 * Problems: not-found, role-not-allowed, work-order-handed-back, joint-incomplete (with blockers), same-person,
 * already-signed.
 */
export function signOffJoint(ctx: Context, jointId: string, input: SignOffInput): SignOff {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const joint = loadJoint(ctx, jointId)
    const { row } = joint
    if (row.handed_back_at !== null)
      throw problem('work-order-handed-back', { detail: `Work order ${row.order_number} has been handed back.` })
    if (!joint.state.complete)
      throw problem('joint-incomplete', {
        detail: `${row.joint.name} cannot be signed: ${stateInWords(joint.state)}.`,
        extra: { blockers: blockersOf(joint) },
      })
    const signOff: SignOffRow = { ...newRecord(ctx), joint_id: jointId, as: input.as, looked_at: null }
    if (input.as === 'second_person' && !mayLookAgain(signOff.created_by, joint.sign_offs, joint.records))
      throw problem('same-person', {
        detail:
          'The second person must be another than whoever tightened it or signed first: another person, with a login of their own.',
      })
    if (standingSignatures(joint.sign_offs, joint.records).some(signature => signature.as === input.as))
      throw problem('already-signed', { detail: `${row.joint.name} is signed already, and nothing has changed since.` })
    insertSignOff(tx, signOff)
    recordEvent(ctx, tx, { action: 'joint.signed-off', table: 'sign_offs', id: signOff.id })
    return signOffToWire(signOff)
  })
}

const WORDS = {
  stage_missing: 'has not had stage',
  redo: 'must be done again from stage',
  unsure: 'is unsure at stage',
  replace: 'must be replaced, after stage',
} as const

function blockersOf(joint: LoadedJoint): { reason: string; sentence: string; href: string }[] {
  return joint.state.incomplete.map(({ reason, position, stage }) => ({
    reason,
    sentence: `The fastener at position ${position} ${WORDS[reason]} ${stage}.`,
    href: `/bench/joints/${joint.row.joint.id}`,
  }))
}

export function signOffToWire(row: SignOffRow): SignOff {
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    joint_id: row.joint_id,
    as: row.as,
  }
}

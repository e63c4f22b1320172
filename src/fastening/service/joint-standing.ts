import { namesOfPeople } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Joint } from '../contract.ts'
import { needsSecondPerson, standingSignatures, stateInWords } from '../rules.ts'
import { type LoadedJoint, loadJoint, loadJoints } from './joints.ts'
import { leavingToWire } from './leaving-wire.ts'
import { fastenersToDo, signingBlockers } from './signing-blockers.ts'

/** Where a joint stands, for whoever must know whether it may be closed over, started on or handed back. */
export interface JointStanding {
  signed: boolean
  complete: boolean
  /** Something is recorded on it. */
  begun: boolean
  needs_second_person: boolean
  /** Complete and signed once; only the second person is missing. */
  waits_for_second_person: boolean
  /** A fault is open: something must be done again, or is unsure. */
  trouble: boolean
  /** Somebody left it half way, and nobody has taken it up again; `at` in milliseconds. */
  left: { at: number; created_by: string | null; reason: string } | null
  /** Old fasteners that may not be used again are in it: not for the road. */
  temporary: boolean
  /** In words, without a full stop. */
  sentence: string
  /** The same without the words of whoever left it. */
  sentence_but_left: string
}

export function jointStates(ctx: Context, jointIds: string[]): Map<string, JointStanding> {
  return new Map(loadJoints(ctx, jointIds).map(joint => [joint.row.joint.id, standingOf(joint)]))
}

function standingOf(joint: LoadedJoint): JointStanding {
  return {
    signed: joint.signed,
    complete: joint.state.complete,
    begun: joint.records.length > 0,
    needs_second_person: needsSecondPerson(joint.row.revision.severity),
    waits_for_second_person: waitsForSecond(joint),
    trouble: joint.state.fasteners.some(fastener => fastener.fault !== null),
    left: joint.left,
    temporary: joint.fitted.temporary,
    sentence: sentenceOf(joint),
    sentence_but_left: sentenceOf({ ...joint, left: null }),
  }
}

function waitsForSecond(joint: LoadedJoint): boolean {
  if (joint.signed || !joint.state.complete || joint.fitted.faults.length > 0) return false
  return standingSignatures(joint.sign_offs, joint.records).some(signature => signature.as === 'technician')
}

const FITTED_WORDS = {
  temporary_fasteners: 'on temporary fasteners, not for the road',
  new_fasteners_missing: 'new fasteners are not noted on it',
  fasteners_not_inspected: 'nobody has said that its fasteners are fit for use again',
} as const

/** "all 6 are done; waits for a second person": where the joint stands, in words. */
function sentenceOf(joint: LoadedJoint): string {
  const words = stateInWords(joint.state)
  if (joint.signed) return `${words} and signed`
  const more: string[] = []
  if (joint.left !== null) more.push(`left half way: ${joint.left.reason}`)
  const [fault] = joint.fitted.faults
  if (fault !== undefined && (joint.state.complete || joint.fitted.temporary)) more.push(FITTED_WORDS[fault.reason])
  if (joint.state.complete && more.length === 0)
    more.push(waitsForSecond(joint) ? 'waits for a second person' : 'not signed yet')
  return [words, ...more].join('; ')
}

/** 404 when there is none. */
export function jointById(ctx: Context, jointId: string): Joint {
  const joint = loadJoint(ctx, jointId)
  const { id, created_at, created_by, job_id, name, procedure_revision_id } = joint.row.joint
  const names = namesOfPeople(ctx)
  return {
    id,
    created_at: toInstant(created_at),
    created_by,
    job_id,
    name,
    procedure_revision_id,
    severity: joint.row.revision.severity,
    complete: joint.state.complete,
    signed: joint.signed,
    needs_second_person: needsSecondPerson(joint.row.revision.severity),
    sentence: sentenceOf(joint),
    next: joint.state.next,
    blockers: [...fastenersToDo(joint), ...signingBlockers(ctx, joint)],
    temporary: joint.fitted.temporary,
    new_fasteners: joint.fitted.new_fasteners,
    left: joint.left === null ? null : leavingToWire(joint.left, names),
    leavings: joint.leavings.map(leaving => leavingToWire(leaving, names)),
  }
}

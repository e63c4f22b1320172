import { hexagonBearing } from '../../core/fastening/bearing-diameter.ts'
import { proofTorque } from '../../core/fastening/preload.ts'
import { isPropertyClass, PROPERTY_CLASSES, type PropertyClass } from '../../core/fastening/proof-stress.ts'
import { threadDesignation } from '../../core/fastening/thread-designation.ts'
import { usualFriction } from '../../core/fastening/usual-friction.ts'
import type { Fault } from './fault.ts'
import type { RevisionFacts } from './tightening.ts'

/** A torque that asks for thread and class before it is believed, in N·m. Common practice, no source. */
export const MOST_TORQUE_NM = 3000

/** Above so many times the torque that loads the bolt to its proof load, thread, class or unit must be wrong. */
export const MOST_PROOF_TORQUES = 2

type Fastener = Pick<RevisionFacts, 'thread' | 'class' | 'finish'>

/** A metric bolt of a class with a proof stress, which an estimate can be made for. */
export interface KnownBolt {
  diameter_mm: number
  pitch_mm: number
  class: PropertyClass
}

/** The bolt that a procedure names, or why there is no estimate for it, in words. */
export function boltOf({ thread, class: strength }: Fastener): KnownBolt | string {
  if (thread === undefined) return 'The thread is not said.'
  const size = threadDesignation(thread)
  if (size === null) return `The thread “${thread}” is not understood.`
  if (strength === undefined) return 'The property class is not said.'
  if (!isPropertyClass(strength)) return `“${strength}” has no proof load in ISO 898-1.`
  return { ...size, class: strength }
}

/** Grades of stainless steel fasteners as ISO 3506-1 writes them: A2-70, A4-80, F1-60. They have no proof load in ISO 898-1. */
const STAINLESS = /^[ACDF]\d{1,2}-\d{2,3}L?$/i

/**
 * What cannot be right about torque, thread and class. A torque that only looks high is asked about in `torqueCautions`; it
 * is taken, because friction is a guess and the maker's manual governs.
 */
export function torqueFaults(revision: Fastener & Pick<RevisionFacts, 'stages'>): Fault[] {
  const bolt = boltOf(revision)
  const most = typeof bolt === 'string' ? MOST_TORQUE_NM : MOST_PROOF_TORQUES * usualProofTorque(bolt, revision)
  const tooHigh = torquesOf(revision).filter(({ target }) => target > most)
  return [
    ...classFaults(revision),
    ...tooHigh.map(({ at, target }) => ({
      pointer: `/stages/${at}/target`,
      detail:
        typeof bolt === 'string'
          ? `${target} N·m is above ${MOST_TORQUE_NM} N·m. ${bolt} Give thread and property class, and compare the unit with the manual.`
          : `${target} N·m is more than twice ${loadWords(bolt, revision)}. Compare value, unit (lbf·in or kgf·cm?), thread and class with the manual.`,
      code: 'does_not_fit',
    })),
  ]
}

/** A torque above what would load the bolt to its proof load, and a thread that nobody can reckon with. */
export function torqueCautions(
  revision: Fastener & Pick<RevisionFacts, 'stages'>,
): { field: string; detail: string }[] {
  const bolt = boltOf(revision)
  if (typeof bolt === 'string') {
    const isUnread = revision.thread !== undefined && threadDesignation(revision.thread) === null
    return isUnread ? [{ field: 'thread', detail: `${bolt} It is kept as it is; no estimate can be made.` }] : []
  }
  const proof = usualProofTorque(bolt, revision)
  return torquesOf(revision)
    .filter(({ target }) => target > proof)
    .map(({ at, target }) => ({
      field: `stages/${at}/target`,
      detail: `${target} N·m is above ${loadWords(bolt, revision)}. Compare it with the maker’s manual, which governs.`,
    }))
}

function classFaults({ thread, class: strength }: Fastener): Fault[] {
  const isMetric = thread !== undefined && /^M\s*\d/i.test(thread)
  if (!isMetric || strength === undefined || isPropertyClass(strength) || STAINLESS.test(strength)) return []
  const known = PROPERTY_CLASSES.join(', ')
  const detail = `“${strength}” is no property class of a metric bolt. Known are ${known}, and stainless grades as A2-70. Leave it empty when the manual names none.`
  return [{ pointer: '/class', detail, code: 'unknown' }]
}

function torquesOf({ stages }: Pick<RevisionFacts, 'stages'>): { at: number; target: number }[] {
  return stages.flatMap(({ kind, target }, at) => (kind === 'torque' || kind === 'check' ? [{ at, target }] : []))
}

function usualProofTorque(bolt: KnownBolt, { finish }: Fastener): number {
  const { mu } = usualFriction(finish)
  return proofTorque({ ...bolt, mu_thread: mu, mu_head: mu, ...hexagonBearing(bolt.diameter_mm) })
}

function loadWords(bolt: KnownBolt, revision: Fastener): string {
  const torque = Number(usualProofTorque(bolt, revision).toPrecision(2))
  return `the ${torque} N·m or so that load an ${revision.thread} bolt of class ${bolt.class} to its proof load (ISO 898-1, friction ${usualFriction(revision.finish).mu}: an estimate)`
}

import type { JointState } from '../../core/fastening/stages.ts'
import type { Reuse } from '../../core/vocabulary.ts'
import { counted } from '../../core/words.ts'

/** What decides whether the fasteners of a joint may stay in it. */
export interface FittedFacts {
  reuse: Reuse
  state: JointState
  /** Every time that old ones went in again: the fastener number that each position had then. */
  temporary: readonly { reason: string; fasteners_then: readonly number[] }[]
  parts: readonly { quantity: number; batch: string | null; condition: string }[]
  /** In order of recording. */
  inspections: readonly { fit: boolean }[]
}

export interface FittedFault {
  reason: 'temporary_fasteners' | 'new_fasteners_missing' | 'fasteners_not_inspected'
  sentence: string
}

export interface Fitted {
  /** How many new ones must have been issued, and how many were, with their batch; null where they may simply be used again. */
  new_fasteners: { needed: number; issued: number } | null
  /** What the newest inspection said; null when nobody has looked. */
  fit: boolean | null
  temporary: boolean
  faults: FittedFault[]
}

/**
 * Whether the fasteners in a joint may stay there. Single-use ones must be new: as many as were fitted, issued to the joint
 * with their batch. Those that may be used again after inspection were looked at, or are new. Old ones put back to move the
 * vehicle are temporary until every position has another fastener with all its stages.
 */
export function fitted({ reuse, state, temporary, parts, inspections }: FittedFacts): Fitted {
  const fit = inspections.at(-1)?.fit ?? null
  if (reuse === 'free') return { new_fasteners: null, fit, temporary: false, faults: [] }
  const last = temporary.at(-1)
  const old = (position: number) => last?.fasteners_then[position - 1] ?? 0
  const renewed = state.fasteners.filter(({ fastener, position }) => fastener > old(position))
  const numbers = state.fasteners.map(({ fastener, position }) => Math.max(fastener, old(position) + 1))
  const fittedNew = numbers.reduce((sum, number) => sum + number, 0) - (last === undefined ? 0 : numbers.length)
  const isNew = (part: FittedFacts['parts'][number]) => part.condition === 'new'
  const issued = total(parts.filter(part => isNew(part) && part.batch !== null))
  const withoutBatch = total(parts.filter(part => isNew(part) && part.batch === null))
  const new_fasteners = { needed: fittedNew, issued }
  const isMet = issued >= fittedNew
  const isTemporary = last !== undefined && !(isMet && state.complete && renewed.length === numbers.length)
  const faults: FittedFault[] = []
  if (isTemporary)
    faults.push({
      reason: 'temporary_fasteners',
      sentence: `Old fasteners are in it, temporary, not for the road (${last.reason}): ${renewed.length} of ${numbers.length} are new since. Replace each by a new one, with all its stages.`,
    })
  if (!isMet && !(reuse === 'after_inspection' && fit === true && !isTemporary))
    faults.push(
      reuse === 'after_inspection' && fit === null
        ? notInspected(fittedNew)
        : missing(new_fasteners, withoutBatch, fit),
    )
  return { new_fasteners, fit, temporary: isTemporary, faults }
}

function total(parts: readonly { quantity: number }[]): number {
  return parts.reduce((sum, part) => sum + part.quantity, 0)
}

function notInspected(needed: number): FittedFault {
  return {
    reason: 'fasteners_not_inspected',
    sentence: `Its fasteners may be used again only after inspection: say that they were looked at and are fit, or note ${counted(needed, 'new one', 'new ones')} with the batch.`,
  }
}

function missing(
  { needed, issued }: { needed: number; issued: number },
  withoutBatch: number,
  fit: boolean | null,
): FittedFault {
  const why = fit === false ? 'were found unfit for use again' : 'are for single use'
  const batchless = withoutBatch > 0 ? ` (${withoutBatch} more without a batch, which do not count)` : ''
  return {
    reason: 'new_fasteners_missing',
    sentence: `Its fasteners ${why}: ${needed} new needed, ${issued} noted with a batch${batchless}. Note ${needed - issued} more on this joint.`,
  }
}

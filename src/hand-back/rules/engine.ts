import type { EngineTurn } from '../../core/vocabulary.ts'
import { type Blocker, jointBlocker, type PointFacts, toolBlocker } from './blockers.ts'

/** Tools and joints of every job of the order, voided ones too: there is one engine. */
export interface EngineFacts {
  /** Only those that are still in. */
  tools: PointFacts['tools']
  joints: readonly (PointFacts['joints'][number] & {
    /** Something is recorded on it. */
    begun: boolean
  })[]
  /** By hand, since the last step of the order was opened. */
  turned_by_hand: boolean
  /** The job whose card says so. */
  job_id: string
}

/**
 * What keeps an engine from being turned. By hand: a tool in any part of the vehicle, a joint that was begun and is not
 * signed, temporary fasteners. Started: the same, and that nobody has turned it by hand since the last step was opened.
 */
export function engineBlockers({ tools, joints, turned_by_hand, job_id }: EngineFacts, how: EngineTurn): Blocker[] {
  const loose = joints.filter(joint => joint.temporary || (joint.begun && !joint.signed))
  const notByHand: Blocker = {
    reason: 'engine_not_turned',
    sentence: 'It was not turned by hand since a step was opened last.',
    href: `/bench/jobs/${job_id}`,
  }
  return [
    ...tools.map(toolBlocker),
    ...loose.map(jointBlocker),
    ...(how === 'started' && !turned_by_hand ? [notByHand] : []),
  ]
}

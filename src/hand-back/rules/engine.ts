import type { EngineTurn } from '../../core/vocabulary.ts'
import { type Blocker, jointBlocker, type PointFacts, stepBlocker, toolBlocker } from './blockers.ts'

/** Tools and joints of every job of the order, voided ones too: there is one engine. */
export interface EngineFacts {
  /** Only those that are still in. */
  tools: PointFacts['tools']
  joints: readonly (PointFacts['joints'][number] & {
    /** Something is recorded on it. */
    begun: boolean
  })[]
  /** Steps of jobs that turn the engine: while one is open it is turned by hand only. */
  open_steps: readonly { name: string; job_id: string }[]
  /** By hand, since the last step of the order was opened. */
  turned_by_hand: boolean
  /** The job whose card says so. */
  job_id: string
}

/**
 * What keeps an engine from being turned. By hand: a tool in any part of the vehicle, a joint that was begun and is not
 * signed, temporary fasteners. Started: the same, a step that a job which turns it opened and nobody has closed, and that nobody has
 * turned it by hand since the last step was opened.
 */
export function engineBlockers(facts: EngineFacts, how: EngineTurn): Blocker[] {
  const { tools, joints, open_steps, turned_by_hand, job_id } = facts
  const loose = joints.filter(joint => joint.temporary || (joint.begun && !joint.signed))
  const notByHand: Blocker = {
    reason: 'engine_not_turned',
    sentence: 'It was not turned by hand since a step was opened last.',
    href: `/bench/jobs/${job_id}`,
  }
  return [
    ...tools.map(toolBlocker),
    ...loose.map(jointBlocker),
    ...(how === 'started' ? open_steps.map(stepBlocker) : []),
    ...(how === 'started' && !turned_by_hand ? [notByHand] : []),
  ]
}

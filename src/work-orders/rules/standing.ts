import type { WorkOrderState } from '../../core/vocabulary.ts'

/** What decides the state of an order; see `isJobDone` for `all_done`. */
export interface StandingFacts {
  handed_back: boolean
  agreed: boolean
  /** A step was opened, a fastener recorded, a tool put in, or time clocked. */
  begun: boolean
  /** Whether it has any job, and whether every job that was not voided is done. */
  has_jobs: boolean
  all_done: boolean
  blocked: boolean
}

/** The state of a work order: never stored, always what the facts say. */
export function stateOf(facts: StandingFacts): WorkOrderState {
  if (facts.handed_back) return 'handed_back'
  if (facts.has_jobs && facts.all_done && !facts.blocked) return 'ready'
  if (facts.begun) return 'in_work'
  return facts.agreed ? 'agreed' : 'taken_in'
}

/** One truth for each entry of a job's plan: joint signed, look with a result, final check fine. */
export interface JobMarks {
  steps: readonly { is_open: boolean; times_opened: number }[]
  joints: readonly boolean[]
  looks: readonly boolean[]
  final_checks: readonly boolean[]
  completed: boolean
}

/**
 * A job with joints, looks or final checks is done when all of them are. A job that is strip-down alone is done when every
 * step was opened and is closed. Any job without a point to prove is done when somebody says so.
 */
export function isJobDone(marks: JobMarks): boolean {
  const points = [...marks.joints, ...marks.looks, ...marks.final_checks]
  if (points.length > 0) return points.every(point => point)
  if (marks.completed) return true
  return marks.steps.length > 0 && marks.steps.every(step => step.times_opened > 0 && !step.is_open)
}

/** A, B … Z, AA, AB …: the letter of the job at a place, from 0. */
export function letterOf(place: number): string {
  const last = String.fromCharCode(65 + (place % 26))
  return place < 26 ? last : letterOf(Math.floor(place / 26) - 1) + last
}

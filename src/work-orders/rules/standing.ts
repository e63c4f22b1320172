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
export interface JobPoints {
  steps: readonly { is_open: boolean; times_opened: number }[]
  joints: readonly boolean[]
  looks: readonly boolean[]
  final_checks: readonly boolean[]
  /** Of a job that turns the engine: whether it was turned by hand; else null. */
  turned_by_hand: boolean | null
  completed: boolean
}

/** Whether the plan of a job has what proves it done: a joint, a look, a final check, an engine to turn by hand. */
export function provesItself(job: {
  joints: readonly unknown[]
  looks: readonly unknown[]
  final_checks: readonly unknown[]
  turns_engine: boolean
}): boolean {
  return job.joints.length + job.looks.length + job.final_checks.length > 0 || job.turns_engine
}

/** Whether somebody says that the work of a job is done: where no joint says it by its signatures. */
export function isDoneByWord(job: { joints: readonly unknown[] }): boolean {
  return job.joints.length === 0
}

/**
 * A job with joints, looks, final checks or an engine to turn by hand is done when all of them are. A job that is strip-down
 * alone is done when every step was opened and is closed. Any job without a point to prove is done when somebody says so and
 * nothing of it is open.
 */
export function isJobDone(points: JobPoints): boolean {
  const { joints, looks, final_checks, turned_by_hand } = points
  const toProve = [...joints, ...looks, ...final_checks, ...(turned_by_hand === null ? [] : [turned_by_hand])]
  if (toProve.length > 0) return toProve.every(point => point)
  if (points.completed) return points.steps.every(step => !step.is_open)
  return points.steps.length > 0 && points.steps.every(step => step.times_opened > 0 && !step.is_open)
}

/** A, B … Z, AA, AB …: the letter of the job at a place, from 0. */
export function letterOf(place: number): string {
  const last = String.fromCharCode(65 + (place % 26))
  return place < 26 ? last : letterOf(Math.floor(place / 26) - 1) + last
}

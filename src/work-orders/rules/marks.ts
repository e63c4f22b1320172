import { type SharedStep, withItsNeeds } from './shared-steps.ts'

/** A position mark of a job that stands, while nobody has made it. */
export interface MarkToMake {
  id: string
  job_id: string
  text: string
  /** It can be seen only when this is open. */
  behind_step_id: string | null
  before_step_id: string | null
  joint_id: string | null
}

interface Joint {
  id: string
  behind_step_id: string | null
}

/**
 * The marks without which a step may not be opened: once it is, where things stood is lost. A mark belongs to the step that
 * it comes before; one that names none, but a step behind which it can be seen, to the steps that are deeper than that one; one
 * that names neither to every step of its job; one of a joint to the steps that are deeper than the step behind which the joint
 * lies, since these take the joint apart. What the joint itself waits for is asked when it is tightened.
 */
export function marksBefore<Mark extends MarkToMake>(
  marks: readonly Mark[],
  joints: readonly Joint[],
  steps: readonly SharedStep[],
  step: SharedStep,
): Mark[] {
  const over = new Set([...withItsNeeds(steps, step)].map(each => each.access_step_id))
  return marks.filter(mark => {
    if (mark.before_step_id !== null) return mark.before_step_id === step.access_step_id
    if (mark.joint_id === null && mark.behind_step_id === null) return step.job_ids.includes(mark.job_id)
    const behind = mark.behind_step_id ?? joints.find(joint => joint.id === mark.joint_id)?.behind_step_id ?? null
    return behind !== null && behind !== step.access_step_id && over.has(behind)
  })
}

/** Whether a mark comes before the work itself: it names no step that takes it apart, and no joint. */
export function isBeforeWork(mark: {
  before_step_id?: string | null | undefined
  joint_id?: string | null | undefined
}): boolean {
  return (mark.before_step_id ?? null) === null && (mark.joint_id ?? null) === null
}

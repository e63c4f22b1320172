import { type SharedStep, withItsNeeds } from './shared-steps.ts'

interface Tool {
  /** Null when nobody named a step: then it may lie behind any that is open. */
  before_step_id: string | null
}

type NamedStep = Pick<SharedStep, 'access_step_id' | 'name'>

interface Joint {
  job_id: string
  behind_step_id: string | null
}

/** What a tool must come out before: '"Wheel off" is closed'. One that names no step, before any is. */
export function outBefore({ before_step_id }: Tool, steps: readonly NamedStep[]): string {
  const step = steps.find(each => each.access_step_id === before_step_id)
  if (step !== undefined) return `"${step.name}" is closed`
  return steps.length === 0 ? 'the vehicle leaves' : 'any open step is closed'
}

/** A tool that any job of an order put in. */
interface ToolPutIn extends Tool {
  removed_at: number | null
}

/** The tools still in that a joint has to do with. */
export interface ToolsAtJoint<T> {
  /** They would be closed in if the joint were done now: it may be tightened, and is not signed. */
  closed_in: T[]
  /** They must be out before the step behind which the joint lies is closed: whoever signs says that it does not close over them. */
  beside: T[]
}

/**
 * A joint that lies outside the step before which a tool must be out goes together after that step: it closes the tool in. One
 * behind that very step may be what a locking tool holds while it is tightened, or what fastens the cover over it: the plan does
 * not tell, so whoever signs is asked. One behind a deeper step has nothing to do with it.
 */
export function toolsAtJoint<T extends ToolPutIn>(
  { jobs, steps }: { jobs: readonly { tools_in: readonly T[] }[]; steps: readonly SharedStep[] },
  joint: Joint,
): ToolsAtJoint<T> {
  const inside = jobs.flatMap(job => job.tools_in).filter(tool => tool.removed_at === null)
  const mayLieBehind = (tool: T) =>
    steps.filter(step => (tool.before_step_id === null ? step.is_open : step.access_step_id === tool.before_step_id))
  const isClosedIn = (tool: T) => mayLieBehind(tool).some(step => liesOutside(joint, step, steps))
  const isBeside = (tool: T) => mayLieBehind(tool).some(step => step.access_step_id === joint.behind_step_id)
  return {
    closed_in: inside.filter(isClosedIn),
    beside: inside.filter(tool => isBeside(tool) && !isClosedIn(tool)),
  }
}

/** Behind a step that this one needs; or behind none, on a job that opens this one or what it needs. */
function liesOutside({ job_id, behind_step_id }: Joint, step: SharedStep, steps: readonly SharedStep[]): boolean {
  const over = [...withItsNeeds(steps, step)]
  if (behind_step_id === null) return over.some(each => each.job_ids.includes(job_id))
  return behind_step_id !== step.access_step_id && over.some(each => each.access_step_id === behind_step_id)
}

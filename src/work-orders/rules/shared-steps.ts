/** A strip-down step of one job's plan. */
export interface PlannedStep {
  id: string
  job_id: string
  access_step_id: string
  name: string
  hours: number
  needs: readonly string[]
}

/** A strip-down step of a whole order: the jobs that need it share it. */
export interface SharedStep {
  access_step_id: string
  name: string
  hours: number
  /** Access steps that must be open first, as any of the plans says. */
  needs: string[]
  job_ids: string[]
  job_step_ids: string[]
  times_opened: number
  is_open: boolean
  /** When it was last opened and closed, in milliseconds. */
  opened_at: number | null
  closed_at: number | null
}

interface StepEvent {
  access_step_id: string
  at: number
}

/**
 * The steps of an order, each once, with what was done to it. A step is opened and closed in turn, so it is open exactly
 * when it was opened more often than closed. Name and hours are those of the first plan that has it.
 */
export function sharedSteps(
  planned: readonly PlannedStep[],
  openings: readonly StepEvent[],
  closings: readonly StepEvent[],
): SharedStep[] {
  const byId = new Map<string, PlannedStep[]>()
  for (const step of planned) byId.set(step.access_step_id, [...(byId.get(step.access_step_id) ?? []), step])
  return [...byId].map(([accessStepId, plans]) => {
    const opened = openings.filter(event => event.access_step_id === accessStepId)
    const closed = closings.filter(event => event.access_step_id === accessStepId)
    return {
      access_step_id: accessStepId,
      name: plans[0]!.name,
      hours: plans[0]!.hours,
      needs: [...new Set(plans.flatMap(plan => plan.needs))],
      job_ids: plans.map(plan => plan.job_id),
      job_step_ids: plans.map(plan => plan.id),
      times_opened: opened.length,
      is_open: opened.length > closed.length,
      opened_at: opened.at(-1)?.at ?? null,
      closed_at: closed.at(-1)?.at ?? null,
    }
  })
}

/** The steps that must be open before this one and are not, by name. */
export function closedNeeds(steps: readonly SharedStep[], step: PlannedStep): SharedStep[] {
  return steps.filter(other => step.needs.includes(other.access_step_id) && !other.is_open)
}

/** The step itself and every step that it needs, directly or through others. */
export function withItsNeeds(steps: readonly SharedStep[], step: SharedStep): Set<SharedStep> {
  const over = new Set([step])
  // a Set hands out what is added while it is walked
  for (const inner of over) {
    for (const outer of steps) if (inner.needs.includes(outer.access_step_id)) over.add(outer)
  }
  return over
}

/** A step that was opened and is closed again, over the step given or being it; undefined while the way to it is free or new. */
export function closedOver(steps: readonly SharedStep[], step: SharedStep): SharedStep | undefined {
  return [...withItsNeeds(steps, step)].find(each => each.times_opened > 0 && !each.is_open)
}

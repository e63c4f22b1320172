import { sumDecimals } from '../decimal.ts'
import { type AccessStep, accessClosure } from './access-closure.ts'

export interface LabourStep extends AccessStep {
  hours: number
}

/** A job with its own book hours and the access steps that it names. */
export interface LabourJob {
  id: string
  hours: number
  access_step_ids: readonly string[]
}

/** All in hours. `steps` are in an order in which they can be opened; `job_ids` are the jobs that share one. */
export interface Labour {
  hours_together: number
  hours_apart: number
  hours_opened_again: number
  jobs: { id: string; own_hours: number; operation_hours: number; step_ids: string[] }[]
  steps: { id: string; hours: number; job_ids: string[]; times_opened_again: number }[]
}

/**
 * Labour of a work order. Hours of an operation are its own and those of its access steps with all they need; hours of the
 * work order are the own hours of every job and the union of the access steps, each once. A step that was closed and had to
 * be opened again counts again, once for each time its id stands in `openedAgain`, in both sums, so that their difference
 * is what sharing saves. Sums are exact in the decimals given.
 *
 * @throws RangeError for hours below zero, an unknown step, or steps that need each other in a circle.
 */
export function labour(
  jobs: readonly LabourJob[],
  steps: readonly LabourStep[],
  openedAgain: readonly string[] = [],
): Labour {
  for (const { hours } of [...jobs, ...steps])
    if (!(hours >= 0 && Number.isFinite(hours))) throw new RangeError('labour requires hours of zero or more')
  const needed = jobs.map(job => accessClosure(steps, job.access_step_ids))
  const union = accessClosure(
    steps,
    jobs.flatMap(job => job.access_step_ids),
  )
  for (const id of openedAgain) accessClosure(steps, [id])
  const again = openedAgain.map(id => steps.find(step => step.id === id)!.hours)
  const perJob = jobs.map((job, at) => ({
    id: job.id,
    own_hours: job.hours,
    operation_hours: sumDecimals([job.hours, ...needed[at]!.map(step => step.hours)]),
    step_ids: needed[at]!.map(step => step.id),
  }))
  return {
    hours_together: sumDecimals([...jobs.map(job => job.hours), ...union.map(step => step.hours), ...again]),
    hours_apart: sumDecimals([...perJob.map(job => job.operation_hours), ...again]),
    hours_opened_again: sumDecimals(again),
    jobs: perJob,
    steps: union.map(({ id, hours }) => ({
      id,
      hours,
      job_ids: perJob.filter(job => job.step_ids.includes(id)).map(job => job.id),
      times_opened_again: openedAgain.filter(step => step === id).length,
    })),
  }
}

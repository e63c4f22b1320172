export interface StepToDraw {
  access_step_id: string
  name: string
  hours: number
  needs: readonly string[]
  job_ids: readonly string[]
}

export interface JobToDraw {
  id: string
  letter: string
  task: string
  hours: number
}

/** A bar of the tree: a strip-down step or a job's own hours. `after` is the step it hangs on. */
export interface TreeBar {
  id: string
  after: string | null
  kind: 'step' | 'job'
  label: string
  hours: number
  /** Letters of the jobs that need the step. */
  letters: string[]
}

/**
 * The strip-down of an order as a tree, outer steps first. A step that needs several hangs on the one that is reached last,
 * a job on the step of its own that is; under each step its jobs come before the steps behind it.
 *
 * @param steps those that standing jobs need, each after the steps it needs.
 */
export function stripDownTree(steps: readonly StepToDraw[], jobs: readonly JobToDraw[]): TreeBar[] {
  const ends = new Map<string, number>()
  const latest = (ids: readonly string[]) =>
    ids.filter(id => ends.has(id)).sort((one, other) => ends.get(other)! - ends.get(one)!)[0] ?? null
  const hung = steps.map(step => {
    const after = latest(step.needs)
    ends.set(step.access_step_id, (after === null ? 0 : ends.get(after)!) + step.hours)
    return { step, after }
  })
  const jobBars = jobs.map(
    (job): TreeBar => ({
      id: job.id,
      after: latest(steps.filter(step => step.job_ids.includes(job.id)).map(step => step.access_step_id)),
      kind: 'job',
      label: `${job.letter} ${job.task}`,
      hours: job.hours,
      letters: [job.letter],
    }),
  )
  const letters = (step: StepToDraw) => jobs.filter(job => step.job_ids.includes(job.id)).map(job => job.letter)
  const under = (parent: string | null): TreeBar[] => [
    ...jobBars.filter(bar => bar.after === parent),
    ...hung
      .filter(({ after }) => after === parent)
      .flatMap(({ step }): TreeBar[] => [
        {
          id: step.access_step_id,
          after: parent,
          kind: 'step',
          label: step.name,
          hours: step.hours,
          letters: letters(step),
        },
        ...under(step.access_step_id),
      ]),
  ]
  return under(null)
}

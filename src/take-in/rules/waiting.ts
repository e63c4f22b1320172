import type { WorkOrderState } from '../../core/vocabulary.ts'
import { inText } from '../../core/words.ts'

export interface WaitingFacts {
  state: WorkOrderState
  /** Those that stand. */
  jobs: readonly { letter: string; task: string; done: boolean }[]
  blockers: readonly { reason: string; sentence: string }[]
}

/** What a vehicle in the house waits for, after "waits for". */
export function waitsFor({ state, jobs, blockers }: WaitingFacts): string {
  if (jobs.length === 0) return 'a job: none is written down yet'
  if (blockers.some(blocker => blocker.reason === 'no_yes')) return 'the customer’s yes'
  if (blockers.some(blocker => blocker.reason === 'above_agreed')) return 'the customer’s yes to more than was agreed'
  if (state === 'ready') return 'being fetched'
  if (state !== 'in_work') return 'the work to begin'
  const open = blockers.map(blocker => inText(blocker.sentence.replace(/\.$/, '')))
  const undone = jobs.filter(job => !job.done).map(job => `job ${job.letter}, ${inText(job.task)}, is not done`)
  const [first, ...more] = open.length > 0 ? open : undone
  return more.length === 0 ? `the work: ${first}` : `the work: ${first}, and ${more.length} more`
}

/** Late first, then by what was promised, then those nobody was promised, oldest stay first. */
export function byUrgency<Stay extends { promised_on: string | null; taken_in: number }>(
  stays: readonly Stay[],
): Stay[] {
  const last = '9999-12-31'
  return [...stays].sort(
    (one, other) => (one.promised_on ?? last).localeCompare(other.promised_on ?? last) || one.taken_in - other.taken_in,
  )
}

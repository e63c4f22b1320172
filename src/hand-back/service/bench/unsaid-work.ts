import { inText, listed } from '../../../core/words.ts'
import { isDoneByWord, type OrderPlan } from '../../../work-orders/index.ts'

/**
 * That a step is closed over work of which nobody has said that it is done, and that no joint proves; '' when there is none. It
 * warns and blocks nothing: whoever closes the step may know better than the record. Another job than the one at hand is named.
 */
export function unsaidWork({ jobs }: OrderPlan, step: { job_ids: readonly string[] }, ofJobId: string): string {
  const unsaid = jobs.filter(
    job => step.job_ids.includes(job.id) && job.voiding === null && job.completion === null && isDoneByWord(job),
  )
  if (unsaid.length === 0) return ''
  const says = 'nobody has said that the work itself is done'
  if (unsaid.every(job => job.id === ofJobId)) return says
  return `${says}: job ${listed(unsaid.map(({ letter, task }) => `${letter}, ${inText(task)}`))}`
}

import { inText } from '../../core/words.ts'

/** A job that nothing proves to be done, and of which nobody has said so. */
export interface UnsaidJob {
  id: string
  letter: string
  task: string
}

/** What stops nobody, and is asked before the vehicle leaves. */
export interface Question {
  reason: 'job_not_said_done' | 'no_job'
  sentence: string
  href: string
}

/**
 * Whatever has a joint, a look, a check or an open step blocks until it is done; a job without any leaves on somebody's word,
 * so its absence is asked about: the page beside its button, the API in `to_ask`, before and after.
 */
export function questionsOf(orderId: string, jobs: readonly unknown[], unsaid: readonly UnsaidJob[]): Question[] {
  if (jobs.length === 0) {
    const sentence = 'There is no job on this order. Was nothing done?'
    return [{ reason: 'no_job', sentence, href: `/work-orders/${orderId}` }]
  }
  return unsaid.map(({ id, letter, task }) => ({
    reason: 'job_not_said_done',
    sentence: `Nobody has said that job ${letter}, ${inText(task)}, is done. Was it?`,
    href: `/bench/jobs/${id}`,
  }))
}

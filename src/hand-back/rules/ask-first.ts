import { inText } from '../../core/words.ts'

/** A job that nothing proves to be done, and of which nobody has said so. */
export interface UnsaidJob {
  id: string
  letter: string
  task: string
}

/** A tool of the plan of a job that was opened up, of which nobody has written that it went in, or why it did not. */
export interface UnsaidTool {
  job_id: string
  tool: string
}

/** A box of loose parts that somebody has put somewhere and nobody has called empty. */
export interface FullBox {
  what: string
  place: string
}

/** A comeback that the customer pays nothing for, as was decided, on an order that asks the customer for money. */
export interface ComebackCharged {
  task: string
  payer: 'us' | 'supplier'
}

/** What stops nobody, and is asked before the vehicle leaves. */
export interface Question {
  reason: 'job_not_said_done' | 'no_job' | 'tool_not_said' | 'box_not_empty' | 'comeback_not_borne'
  sentence: string
  href: string
}

/**
 * Whatever has a joint, a look, a check or an open step blocks until it is done; a job without any leaves on somebody's word,
 * so its absence is asked about: the page beside its button, the API in `to_ask`, before and after.
 */
export function questionsOf(
  orderId: string,
  jobs: readonly unknown[],
  unsaid: readonly UnsaidJob[],
  tools: readonly UnsaidTool[],
  boxes: readonly FullBox[],
  charged: ComebackCharged | null,
): Question[] {
  const href = `/work-orders/${orderId}`
  const money = charged === null ? [] : [chargedQuestion(charged, href)]
  const full = boxes.map(({ what, place }): Question => {
    const sentence = `There is a box that nobody has called empty: ${inText(what)}, at ${inText(place)}. Is everything back on?`
    return { reason: 'box_not_empty', sentence, href: `${href}#places` }
  })
  if (jobs.length === 0) {
    return [{ reason: 'no_job', sentence: 'There is no job on this order. Was nothing done?', href }, ...full, ...money]
  }
  const undone = unsaid.map(
    ({ id, letter, task }): Question => ({
      reason: 'job_not_said_done',
      sentence: `Nobody has said that job ${letter}, ${inText(task)}, is done. Was it?`,
      href: `/bench/jobs/${id}`,
    }),
  )
  const unused = tools.map(
    ({ job_id, tool }): Question => ({
      reason: 'tool_not_said',
      sentence: `By its plan ${inText(tool)} goes in, and nobody has written that it did. Was it used?`,
      href: `/bench/jobs/${job_id}`,
    }),
  )
  return [...undone, ...unused, ...full, ...money]
}

function chargedQuestion({ task, payer }: ComebackCharged, href: string): Question {
  const pays = payer === 'us' ? 'we pay' : 'the supplier pays'
  const sentence = `It came back after “${task}”, and it was decided that ${pays}; but the customer is asked for money on this order. Is that for other work?`
  return { reason: 'comeback_not_borne', sentence, href }
}

import { findingsOnJobs } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import type { PlannedJob } from '../../work-orders/index.ts'
import type { SubjectKey } from '../contract.ts'
import { attachmentsOf, type ShownAttachment } from './attachments.ts'

/** One thing of a job, and what is attached to it. */
export interface ThingShown {
  key: SubjectKey
  /** In words: 'Position mark: hub and carrier'. */
  of: string
  attachments: ShownAttachment[]
}

/**
 * What is attached to jobs, in the order of the work: each job itself, its marks, looks, the findings made on it, its final
 * checks. A thing without any is left out.
 */
export function attachmentsOnJobs(ctx: Context, jobs: readonly PlannedJob[]): ThingShown[] {
  const things = thingsOf(ctx, jobs)
  const ids: Partial<Record<SubjectKey, string[]>> = {}
  for (const { key, id } of things) ids[key] = [...(ids[key] ?? []), id]
  const attached = attachmentsOf(ctx, ids)
  return things.flatMap(({ key, id, of }) => {
    const attachments = attached.get(id)
    return attachments === undefined ? [] : [{ key, of, attachments }]
  })
}

function thingsOf(ctx: Context, jobs: readonly PlannedJob[]): { key: SubjectKey; id: string; of: string }[] {
  const findings = findingsOnJobs(
    ctx,
    jobs.map(job => job.id),
  )
  return jobs.flatMap(job => [
    { key: 'job_id', id: job.id, of: `Job ${job.letter}, ${job.task}` },
    ...job.marks.map(mark => ({ key: 'mark_id' as const, id: mark.id, of: `Position mark: ${mark.text}` })),
    ...job.looks.map(look => ({ key: 'look_id' as const, id: look.id, of: `Look: ${look.component}` })),
    ...findings
      .filter(finding => finding.job_id === job.id)
      .map(({ id, component, failure_mode }) => ({
        ...{ key: 'finding_id' as const, id },
        of: `Finding: ${[component, failure_mode].filter(Boolean).join(', ')}`,
      })),
    ...job.final_checks.map(check => ({
      key: 'final_check_id' as const,
      id: check.id,
      of: `Final check: ${check.text}`,
    })),
  ])
}

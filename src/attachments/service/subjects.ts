import { oneFinding } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { known, notFound } from '../../platform/problems.ts'
import { finalCheckById, jobById, lookById, workOrderById } from '../../work-orders/index.ts'
import { type AttachmentSubject, SUBJECT_KEYS, type SubjectKey } from '../contract.ts'
import { markById } from '../queries.ts'

/** What an attachment is of, in words, and the page on which that stands. */
export interface SubjectFacts {
  says: string
  page: string
}

/** Which of the six it is, and its id. */
export function keyOf(subject: AttachmentSubject): { key: SubjectKey; id: string } {
  const given = subject as Partial<Record<SubjectKey, string>>
  const key = SUBJECT_KEYS.find(each => given[each] !== undefined)
  if (key === undefined) throw new RangeError('keyOf requires a subject that names something')
  return { key, id: given[key] ?? '' }
}

/** 404 when it names nothing. */
export function subjectFacts(ctx: Context, subject: AttachmentSubject): SubjectFacts {
  const { key, id } = keyOf(subject)
  return FACTS[key](ctx, id)
}

/** For a subject in a body: there, an unknown id is the field's fault (422). */
export function requireSubject(ctx: Context, subject: AttachmentSubject): void {
  known(`/subject/${keyOf(subject).key}`, () => subjectFacts(ctx, subject))
}

const card = (jobId: string) => `/bench/jobs/${jobId}`

const FACTS: Record<SubjectKey, (ctx: Context, id: string) => SubjectFacts> = {
  mark_id(ctx, id) {
    const mark = markById(ctx.read, id)
    if (mark === undefined) throw notFound('position mark', id)
    return { says: `Position mark: ${mark.text}`, page: card(mark.job_id) }
  },
  look_id(ctx, id) {
    const look = lookById(ctx, id)
    return { says: `Look: ${look.component}`, page: card(look.job.id) }
  },
  finding_id(ctx, id) {
    const { component, failure_mode, job_id, vehicle_id } = oneFinding(ctx, id)
    const says = `Finding: ${[component, failure_mode].filter(Boolean).join(', ')}`
    return { says, page: job_id === undefined ? `/vehicles/${vehicle_id}` : card(job_id) }
  },
  final_check_id(ctx, id) {
    const check = finalCheckById(ctx, id)
    return { says: `Final check: ${check.text}`, page: card(check.job.id) }
  },
  work_order_id(ctx, id) {
    return { says: `Arrival, work order ${workOrderById(ctx, id).number}`, page: `/work-orders/${id}` }
  },
  job_id(ctx, id) {
    const { letter, task } = jobById(ctx, id)
    return { says: `Job ${letter}, ${task}`, page: card(id) }
  },
}

import { asc, eq, lt, sql } from 'drizzle-orm'
import { hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { loss_causes } from '../schema.ts'

export type LossCauseRow = typeof loss_causes.$inferSelect

/** `at` in milliseconds. */
export interface OpenedAgainRow {
  id: string
  work_order_id: string
  step: string
  hours: number
  reason: string | null
  at: number
}

export const insertLossCause = hotInsert(loss_causes)

/** Every step that was opened again at our cost and written down before an instant, in the order in which that was. */
export function openedAgainAtOurCost(read: Read, before: number): OpenedAgainRow[] {
  return read.all(sql`
    select o.id, j.work_order_id, a.name as step, s.hours, o.reason, o.at
    from step_openings o join job_steps s on s.id = o.job_step_id join access_steps a on a.id = s.access_step_id
    join jobs j on j.id = s.job_id
    where o.borne_by = 'us' and o.created_at < ${before} order by o.created_at, o.id`)
}

/** Written down before an instant; oldest first, so that the last one of a loss stands. */
export function lossCauses(read: Read, before: number): LossCauseRow[] {
  return read
    .select()
    .from(loss_causes)
    .where(lt(loss_causes.created_at, before))
    .orderBy(asc(loss_causes.created_at), asc(loss_causes.id))
    .all()
}

export function lossCausesOf(read: Read, openingId: string): LossCauseRow[] {
  return read
    .select()
    .from(loss_causes)
    .where(eq(loss_causes.opening_id, openingId))
    .orderBy(asc(loss_causes.created_at), asc(loss_causes.id))
    .all()
}

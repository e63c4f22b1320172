import { sql } from 'drizzle-orm'
import type { Read } from '../platform/database/types.ts'

/**
 * How many findings name work of an operation as the cause of a failure, asked for by operation, component and failure mode.
 * Of those found and written down by then.
 */
export function causesNamed(
  read: Read,
  known: { asOf: string; before: number },
): (operationId: string, componentId: string, modeId: string | null) => number {
  const rows = read.all<{
    operation_id: string
    component_id: string
    failure_mode_id: string | null
    count: number
  }>(sql`
    select coalesce(j.operation_id, p.operation_id) as operation_id, f.component_id, f.failure_mode_id, count(*) as count
    from findings f
    left join jobs j on j.id = f.caused_by_job_id
    left join prior_works p on p.id = f.caused_by_prior_work_id
    where coalesce(j.operation_id, p.operation_id) is not null
      and f.found_on <= ${known.asOf} and f.created_at < ${known.before}
    group by 1, 2, 3`)
  const key = (operationId: string, componentId: string, modeId: string | null) =>
    `${operationId} ${componentId} ${modeId ?? ''}`
  const counts = new Map(rows.map(row => [key(row.operation_id, row.component_id, row.failure_mode_id), row.count]))
  return (operationId, componentId, modeId) => counts.get(key(operationId, componentId, modeId)) ?? 0
}

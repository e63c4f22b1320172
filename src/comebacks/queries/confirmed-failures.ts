import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

export interface ConfirmedFailureRow {
  operation: string
  component: string
  failure_mode: string | null
  vehicle_id: string
  on: string
  /** Of a decision, as are those that follow; null where an imported history says it. */
  decision_id: string | null
  earlier_id: string | null
  later_id: string | null
  root_cause: string | null
}

/**
 * Failures with which work came back, as a person confirmed it: found during the stay that a standing decision is about, or
 * told by an imported history. Of those found and known by then.
 */
export function confirmedFailureRows(
  read: Read,
  { asOf, before }: { asOf: string; before: number },
): ConfirmedFailureRow[] {
  return read.all(sql`
    select o.name as operation, c.name as component, m.name as failure_mode, f.vehicle_id, f.found_on as "on", d.id as decision_id,
      coalesce(d.earlier_job_id, d.earlier_history_event_id) as earlier_id, d.later_work_order_id as later_id, d.root_cause
    from comeback_decisions d
    join work_orders w on w.id = d.later_work_order_id
    left join hand_backs b on b.work_order_id = w.id
    left join jobs e on e.id = d.earlier_job_id
    left join history_events h on h.id = d.earlier_history_event_id
    join operations o on o.id = coalesce(e.operation_id, h.operation_id)
    join findings f on f.vehicle_id = w.vehicle_id
      and (f.job_id in (select id from jobs where work_order_id = w.id)
        or f.id in (select settles_finding_id from jobs where work_order_id = w.id)
        or (f.job_id is null and f.created_at >= w.created_at and (b.at is null or f.created_at <= b.at)))
    join components c on c.id = f.component_id
    left join failure_modes m on m.id = f.failure_mode_id
    where d.decision = 'confirmed' and d.created_at < ${before} and f.found_on <= ${asOf} and f.created_at < ${before}
      and not exists (select 1 from comeback_decisions n where n.supersedes_id = d.id and n.created_at < ${before})
    union all
    select o.name, c.name, m.name, f.vehicle_id, f.date, null, null, null, null
    from history_events f
    join history_events h on h.id = f.comeback_of_id
    join operations o on o.id = h.operation_id
    join components c on c.id = f.component_id
    left join failure_modes m on m.id = f.failure_mode_id
    where f.event = 'failure' and f.date <= ${asOf}
    order by 5, 4, 1`)
}

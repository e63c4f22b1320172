import { sql } from 'drizzle-orm'
import type { PartCondition } from '../../core/vocabulary.ts'
import type { Read } from '../../platform/database/types.ts'

/** Of jobs that are out for their whole term: how many, and after how many the component failed within it. */
export interface PartOutcome {
  /** Of the part that was fitted: used where any of them was; null where nobody wrote down a part. */
  condition: PartCondition | null
  n: number
  n_failed: number
}

/** Every job of an operation that we have handed back, ours and of imported histories, by what was fitted. */
export function partOutcomes(
  read: Read,
  { operationId, componentId, termDays }: { operationId: string; componentId: string; termDays: number },
  { asOf, before }: { asOf: string; before: number },
): PartOutcome[] {
  const term = `+${termDays} days`
  return read.all(sql`
    select condition, count(*) as n, sum(exists (
        select 1 from findings f where f.vehicle_id = o.vehicle_id and f.component_id = ${componentId}
          and f.found_on > o.day and f.found_on <= date(o.day, ${term}) and f.created_at < ${before}
      ) or exists (
        select 1 from history_events h where h.vehicle_id = o.vehicle_id and h.event = 'failure'
          and h.component_id = ${componentId} and h.date > o.day and h.date <= date(o.day, ${term})
      )) as n_failed
    from (
      select w.vehicle_id, b."on" as day, (
          select case when sum(l.condition = 'used') > 0 then 'used' when sum(l.condition = 'reconditioned') > 0
            then 'reconditioned' when count(*) > 0 then 'new' end from standing_part_lines l where l.job_id = j.id
        ) as condition
      from jobs j join work_orders w on w.id = j.work_order_id join hand_backs b on b.work_order_id = w.id
      where j.operation_id = ${operationId} and b.created_at < ${before}
        and not exists (select 1 from job_voidings x where x.job_id = j.id)
      union all
      select vehicle_id, date, null from history_events
        where event = 'work' and by = 'us' and operation_id = ${operationId} and date is not null
    ) o where date(o.day, ${term}) <= ${asOf} group by 1`)
}

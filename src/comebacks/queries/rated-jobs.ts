import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/** A job of ours as the rate counts it; `suppliers` as a JSON list of names. */
export interface RatedJobRow {
  id: string
  handed_back_on: string
  warranty_days: number | null
  is_imported: 0 | 1
  operation: string | null
  family: string
  suppliers: string
}

interface KnownThen {
  asOf: string
  before: number
}

/** Every job of ours that was handed back, and known to be, by then: our own and our dated work of imported histories. */
export function ratedJobs(read: Read, { asOf, before }: KnownThen): RatedJobRow[] {
  return read.all(sql`
    select j.id, b."on" as handed_back_on, j.warranty_days, 0 as is_imported, o.name as operation, f.name as family,
      (select json_group_array(distinct s.name) from standing_part_lines l join suppliers s on s.id = l.supplier_id
        where l.job_id = j.id) as suppliers
    from hand_backs b
    join jobs j on j.work_order_id = b.work_order_id
    join work_orders w on w.id = j.work_order_id
    join vehicles v on v.id = w.vehicle_id
    join families f on f.id = v.family_id
    left join operations o on o.id = j.operation_id
    where b."on" <= ${asOf} and b.created_at < ${before}
      and not exists (select 1 from job_voidings x where x.job_id = j.id and x.created_at < ${before})
    union all
    select h.id, h.date, h.warranty_days, 1, o.name, f.name, '[]'
    from history_events h
    join operations o on o.id = h.operation_id
    join vehicles v on v.id = h.vehicle_id
    join families f on f.id = v.family_id
    where h.event = 'work' and h.by = 'us' and h.date <= ${asOf}`)
}

/** What came back: a stay here, or a row of an imported history with what that states of its cost. */
export interface ComebackRow {
  earlier_id: string
  /** The day on which it came back; null for a stay, of which `at` is the instant. */
  on: string | null
  at: number | null
  stay_id: string | null
  category: string | null
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
}

/** Every confirmed comeback that was known by then: as an import says, and as decided here and not superseded then. */
export function confirmedComebacks(read: Read, { asOf, before }: KnownThen): ComebackRow[] {
  return read.all(sql`
    select comeback_of_id as earlier_id, date as "on", null as at, null as stay_id, null as category,
      hours, labour_minor, parts_minor
    from history_events where comeback_of_id is not null and date <= ${asOf}
    union all
    select coalesce(d.earlier_job_id, d.earlier_history_event_id), null, w.created_at, w.id, d.category, null, null, null
    from comeback_decisions d join work_orders w on w.id = d.later_work_order_id
    where d.decision = 'confirmed' and d.created_at < ${before} and w.created_at < ${before}
      and not exists (select 1 from comeback_decisions n where n.supersedes_id = d.id and n.created_at < ${before})`)
}

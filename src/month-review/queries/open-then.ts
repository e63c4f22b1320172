import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/** What puts joints in doubt: since when it was known, and its wrench; null for a record that was put right. */
export interface DoubtCauseRow {
  id: string
  known_at: number
  wrench: string | null
}

export function doubtCauses(read: Read, ids: readonly string[]): Map<string, DoubtCauseRow> {
  const list = JSON.stringify(ids)
  const rows = read.all<DoubtCauseRow>(sql`
    select c.id, c.created_at as known_at, w.name as wrench from calibrations c join wrenches w on w.id = c.wrench_id
      where c.id in (select value from json_each(${list}))
    union all
    select x.id, x.created_at, w.name from withdrawals x join wrenches w on w.id = x.wrench_id
      where x.id in (select value from json_each(${list}))
    union all
    select t.id, t.created_at, null from torque_records t where t.id in (select value from json_each(${list}))`)
  return new Map(rows.map(row => [row.id, row]))
}

/** The wrenches that were on the register then, by name. */
export function wrenchesThen(read: Read, before: number): { id: string; name: string }[] {
  return read.all(sql`select id, name from wrenches where created_at < ${before} order by name`)
}

export interface LeftOpenRow {
  vehicle_id: string
  amount_minor: number | null
  is_safety: 0 | 1
}

/** Advised work that no job had settled then. */
export function leftOpenThen(read: Read, before: number): LeftOpenRow[] {
  return read.all(sql`
    select l.vehicle_id, l.amount_minor, coalesce(f.severity = 'safety', 0) as is_safety
    from left_for_later l left join findings f on f.id = l.finding_id
    where l.created_at < ${before}
      and not exists (select 1 from left_for_later_settlements s where s.left_for_later_id = l.id and s.created_at < ${before})`)
}

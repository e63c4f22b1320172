import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

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

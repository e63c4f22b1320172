import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/** A stay as a person knows it. */
export interface StayTitle {
  id: string
  number: string
  vehicle_id: string
  title: string
  family: string
  complaint: string
  created_at: number
}

/** An earlier job as a person knows it; without an order it comes from an imported history. */
export interface JobTitle {
  id: string
  task: string
  order_id: string | null
  order_number: string | null
  handed_back_on: string
}

function byId<Row extends { id: string }>(rows: Row[]): Map<string, Row> {
  return new Map(rows.map(row => [row.id, row]))
}

export function stayTitles(read: Read, ids: readonly string[]): Map<string, StayTitle> {
  return byId(
    read.all<StayTitle>(sql`
      select w.id, w.number, w.vehicle_id, w.complaint, w.created_at, f.name as family,
        coalesce(v.plate, v.vin, v.frame_number, v.engine_number, v.imported_as, f.name) as title
      from work_orders w join vehicles v on v.id = w.vehicle_id join families f on f.id = v.family_id
      where w.id in (select value from json_each(${JSON.stringify(ids)}))`),
  )
}

export function jobTitles(read: Read, ids: readonly string[]): Map<string, JobTitle> {
  const list = JSON.stringify(ids)
  return byId(
    read.all<JobTitle>(sql`
      select j.id, j.task, w.id as order_id, w.number as order_number, b."on" as handed_back_on
      from jobs j join work_orders w on w.id = j.work_order_id join hand_backs b on b.work_order_id = w.id
      where j.id in (select value from json_each(${list}))
      union all
      select h.id, o.name, null, null, h.date from history_events h join operations o on o.id = h.operation_id
      where h.id in (select value from json_each(${list}))`),
  )
}

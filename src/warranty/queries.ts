import { sql } from 'drizzle-orm'
import type { OdometerUnit } from '../core/vocabulary.ts'
import type { Read } from '../platform/database/types.ts'

/** A job of ours as it was handed back; imported work may state no term. */
export interface PromisedRow {
  id: string
  vehicle_id: string
  operation: string | null
  handed_back_on: string
  warranty_days: number | null
  warranty_km: number | null
  is_imported: 0 | 1
}

interface KnownThen {
  asOf: string
  before: number
}

/** Every job of ours that was handed back, and known to be, by then: our own and our dated work of imported histories. */
export function promisedJobs(read: Read, { asOf, before }: KnownThen): PromisedRow[] {
  return read.all(sql`
    select j.id, w.vehicle_id, o.name as operation, b."on" as handed_back_on, j.warranty_days, j.warranty_km, 0 as is_imported
    from hand_backs b
    join jobs j on j.work_order_id = b.work_order_id
    join work_orders w on w.id = j.work_order_id
    left join operations o on o.id = j.operation_id
    where b."on" <= ${asOf} and b.created_at < ${before}
      and not exists (select 1 from job_voidings x where x.job_id = j.id and x.created_at < ${before})
    union all
    select h.id, h.vehicle_id, o.name, h.date, h.warranty_days, h.warranty_km, 1
    from history_events h join operations o on o.id = h.operation_id
    where h.event = 'work' and h.by = 'us' and h.date <= ${asOf}`)
}

/** What people call a job under a promise; without an order it comes from an imported history. `km` as it was handed back. */
export interface PromiseTitle {
  id: string
  task: string
  order_id: string | null
  order_number: string | null
  vehicle: string
  family: string
  odometer_unit: OdometerUnit
  km: number | null
}

const vehicleTitle = sql`coalesce(v.plate, v.vin, v.frame_number, v.engine_number, v.imported_as, f.name)`

export function promiseTitles(read: Read, ids: readonly string[]): Map<string, PromiseTitle> {
  const list = JSON.stringify(ids)
  const rows = read.all<PromiseTitle>(sql`
    select j.id, j.task, w.id as order_id, w.number as order_number, ${vehicleTitle} as vehicle, f.name as family,
      v.odometer_unit, coalesce(b.odometer_km, w.odometer_km) as km
    from jobs j join work_orders w on w.id = j.work_order_id join hand_backs b on b.work_order_id = w.id
    join vehicles v on v.id = w.vehicle_id join families f on f.id = v.family_id
    where j.id in (select value from json_each(${list}))
    union all
    select h.id, o.name, null, null, ${vehicleTitle}, f.name, v.odometer_unit, h.distance_km
    from history_events h join operations o on o.id = h.operation_id
    join vehicles v on v.id = h.vehicle_id join families f on f.id = v.family_id
    where h.id in (select value from json_each(${list}))`)
  return new Map(rows.map(row => [row.id, row]))
}

export interface ReadingRow {
  vehicle_id: string
  date: string
  distance_km: number | null
  is_in_service: 0 | 1
  display_replaced: 0 | 1
  known_at: number | null
}

/** Every reading of every odometer, whenever it was written down. */
export function readings(read: Read): ReadingRow[] {
  return read.all(sql`
    select vehicle_id, date, distance_km, event = 'in_service' as is_in_service, display_replaced, known_at
    from life_events where date is not null and (distance_km is not null or event = 'in_service')`)
}

import { sql } from 'drizzle-orm'
import type { Bearer, ComebackVerdict, SuspicionReason } from '../../core/vocabulary.ts'
import type { Read } from '../../platform/database/types.ts'

export interface DecisionRow {
  id: string
  created_at: number
  created_by: string | null
  earlier_id: string
  later_work_order_id: string
  decision: ComebackVerdict
  why: string
  category: string | null
  root_cause: string[]
  borne_by: Bearer | null
  reasons: SuspicionReason[]
  supersedes_id: string | null
}

/** Every decision, whenever it was made, on stays that began from one instant to another; in the order of deciding. */
export function decisionsOnStays(read: Read, { fromMs, toMs }: { fromMs: number; toMs: number }): DecisionRow[] {
  const rows = read.all<Omit<DecisionRow, 'root_cause' | 'reasons'> & { root_cause: string; reasons: string }>(sql`
    select d.id, d.created_at, d.created_by, coalesce(d.earlier_job_id, d.earlier_history_event_id) as earlier_id,
      d.later_work_order_id, d.decision, d.why, d.category, d.root_cause, d.borne_by, d.reasons, d.supersedes_id
    from comeback_decisions d join work_orders w on w.id = d.later_work_order_id
    where w.created_at >= ${fromMs} and w.created_at < ${toMs} order by d.id`)
  return rows.map(row => ({
    ...row,
    root_cause: JSON.parse(row.root_cause) as string[],
    reasons: JSON.parse(row.reasons) as SuspicionReason[],
  }))
}

/** A later stay as a person knows it. */
export interface StayRow {
  id: string
  number: string
  vehicle_id: string
  vehicle: string
  family: string
  symptom_ids: string[]
  created_at: number
}

const vehicleTitle = sql`coalesce(v.plate, v.vin, v.frame_number, v.engine_number, v.imported_as, f.name)`

export function staysById(read: Read, ids: readonly string[]): Map<string, StayRow> {
  const rows = read.all<Omit<StayRow, 'symptom_ids'> & { symptom_ids: string }>(sql`
    select w.id, w.number, w.vehicle_id, ${vehicleTitle} as vehicle, f.name as family, w.symptom_ids, w.created_at
    from work_orders w join vehicles v on v.id = w.vehicle_id join families f on f.id = v.family_id
    where w.id in (select value from json_each(${JSON.stringify(ids)}))`)
  return new Map(rows.map(row => [row.id, { ...row, symptom_ids: JSON.parse(row.symptom_ids) as string[] }]))
}

/** An earlier job as a person knows it; without an order it comes from an imported history. */
export interface EarlierRow {
  id: string
  task: string
  order_id: string | null
  order_number: string | null
  handed_back_on: string
}

export function earlierJobsById(read: Read, ids: readonly string[]): Map<string, EarlierRow> {
  const list = JSON.stringify(ids)
  const rows = read.all<EarlierRow>(sql`
    select j.id, j.task, w.id as order_id, w.number as order_number, b."on" as handed_back_on
    from jobs j join work_orders w on w.id = j.work_order_id join hand_backs b on b.work_order_id = w.id
    where j.id in (select value from json_each(${list}))
    union all
    select h.id, o.name, null, null, h.date from history_events h join operations o on o.id = h.operation_id
    where h.id in (select value from json_each(${list}))`)
  return new Map(rows.map(row => [row.id, row]))
}

/** A comeback as an imported history tells it. */
export interface ImportedReturnRow {
  earlier_id: string
  on: string
  vehicle_id: string
  vehicle: string
  family: string
  symptom: string | null
  note: string | null
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
}

export function importedReturnsIn(read: Read, { first, last }: { first: string; last: string }): ImportedReturnRow[] {
  return read.all(sql`
    select h.comeback_of_id as earlier_id, h.date as "on", h.vehicle_id, ${vehicleTitle} as vehicle, f.name as family,
      s.name as symptom, h.note, h.hours, h.labour_minor, h.parts_minor
    from history_events h join vehicles v on v.id = h.vehicle_id join families f on f.id = v.family_id
    left join symptoms s on s.id = h.symptom_id
    where h.comeback_of_id is not null and h.date between ${first} and ${last} order by h.date, h.id`)
}

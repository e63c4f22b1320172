import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/** An earlier job before its details are looked up. */
export interface EarlierRow {
  id: string
  source: 'jobs' | 'history_events'
  vehicle_id: string
  operation_id: string | null
  task: string
  order_id: string | null
  order_number: string | null
  handed_back_on: string
  /** Null for imported work, of which only the day is known. */
  handed_back_at: number | null
  warranty_days: number | null
  symptom_ids: string[]
}

/** A stay, whether the vehicle is still here or not. */
export interface StayRow {
  id: string
  number: string
  vehicle_id: string
  created_at: number
  handed_back_at: number | null
  symptom_ids: string[]
}

type Raw<Row> = Omit<Row, 'symptom_ids'> & { symptom_ids: string }

function withList<Row>(rows: Raw<Row>[]): Row[] {
  return rows.map(row => ({ ...row, symptom_ids: JSON.parse(row.symptom_ids) as string[] }) as Row)
}

/** Stays of a vehicle, one stay, or all; newest first. */
export function stays(read: Read, of: { vehicleId?: string | undefined; orderId?: string | undefined }): StayRow[] {
  const rows = read.all<Raw<StayRow>>(sql`
    select w.id, w.number, w.vehicle_id, w.created_at, b.at as handed_back_at, w.symptom_ids
    from work_orders w left join hand_backs b on b.work_order_id = w.id
    where (${of.vehicleId ?? null} is null or w.vehicle_id = ${of.vehicleId ?? null})
      and (${of.orderId ?? null} is null or w.id = ${of.orderId ?? null})
    order by w.id desc`)
  return withList(rows)
}

/** Jobs of ours on these vehicles that were handed back, and our dated work in imported histories. */
export function earlierJobs(read: Read, vehicleIds: readonly string[]): EarlierRow[] {
  const list = JSON.stringify(vehicleIds)
  const own = read.all<Raw<EarlierRow>>(sql`
    select j.id, 'jobs' as source, w.vehicle_id, j.operation_id, j.task, w.id as order_id, w.number as order_number,
      b."on" as handed_back_on, b.at as handed_back_at, j.warranty_days, w.symptom_ids
    from work_orders w join hand_backs b on b.work_order_id = w.id join jobs j on j.work_order_id = w.id
    where w.vehicle_id in (select value from json_each(${list}))
      and not exists (select 1 from job_voidings v where v.job_id = j.id)`)
  const imported = read.all<Raw<EarlierRow>>(sql`
    select h.id, 'history_events' as source, h.vehicle_id, h.operation_id, o.name as task, null as order_id,
      null as order_number, h.date as handed_back_on, null as handed_back_at, h.warranty_days,
      (select json_group_array(distinct f.symptom_id) from history_events f where f.vehicle_id = h.vehicle_id
        and f.symptom_id is not null and (f.id = h.id or (f.date = h.date and f.event = 'failure'))) as symptom_ids
    from history_events h join operations o on o.id = h.operation_id
    where h.vehicle_id in (select value from json_each(${list})) and h.event = 'work' and h.by = 'us' and h.date is not null`)
  return withList([...own, ...imported])
}

/** What a job is: enough to check a decision about it. Undefined when it is neither a job of ours nor our imported work. */
export function earlierJob(read: Read, id: string): EarlierRow | undefined {
  const own = read.get<{ vehicle_id: string } | undefined>(sql`
    select w.vehicle_id from jobs j join work_orders w on w.id = j.work_order_id where j.id = ${id}
    union all select vehicle_id from history_events where id = ${id}`)
  return own === undefined ? undefined : earlierJobs(read, [own.vehicle_id]).find(job => job.id === id)
}

interface Of {
  of_id: string
  component_id: string
}

function grouped(rows: Of[]): Map<string, string[]> {
  const groups = new Map<string, string[]>()
  for (const { of_id, component_id } of rows) groups.set(of_id, [...(groups.get(of_id) ?? []), component_id])
  return groups
}

/**
 * Components that jobs had to do with, by job: found on it, in the finding that it settles, put right by its operation as
 * the catalogue says, or (imported) found failed on the same day.
 */
export function componentsOfJobs(read: Read, jobIds: readonly string[]): Map<string, string[]> {
  const list = JSON.stringify(jobIds)
  return grouped(
    read.all<Of>(sql`
      select f.job_id as of_id, f.component_id from findings f where f.job_id in (select value from json_each(${list}))
      union select j.id, f.component_id from jobs j join findings f on f.id = j.settles_finding_id
        where j.id in (select value from json_each(${list}))
      union select j.id, c.id from jobs j join components c on c.remedy_operation_id = j.operation_id
        where j.id in (select value from json_each(${list}))
      union select h.id, c.id from history_events h join components c on c.remedy_operation_id = h.operation_id
        where h.id in (select value from json_each(${list}))
      union select h.id, f.component_id from history_events h
        join history_events f on f.vehicle_id = h.vehicle_id and f.date = h.date and f.event = 'failure'
        where h.id in (select value from json_each(${list}))`),
  )
}

/** Components found failed during stays, by work order: on its jobs, or on the vehicle while it was here. */
export function componentsOfStays(read: Read, stayIds: readonly string[]): Map<string, string[]> {
  const list = JSON.stringify(stayIds)
  return grouped(
    read.all<Of>(sql`
      select j.work_order_id as of_id, f.component_id from jobs j
        join findings f on f.job_id = j.id or f.id = j.settles_finding_id
        where j.work_order_id in (select value from json_each(${list}))
      union select w.id, f.component_id from work_orders w left join hand_backs b on b.work_order_id = w.id
        join findings f on f.vehicle_id = w.vehicle_id and f.job_id is null and f.created_at >= w.created_at
          and (b.at is null or f.created_at <= b.at)
        where w.id in (select value from json_each(${list}))`),
  )
}

/** Components that the strip-down of jobs disturbed, by job: as planned on the day, or as the catalogue has it now. */
export function disturbedByJobs(read: Read, jobIds: readonly string[]): Map<string, string[]> {
  const list = JSON.stringify(jobIds)
  return grouped(
    read.all<Of>(sql`
      select s.job_id as of_id, d.value as component_id from job_steps s, json_each(s.disturbs) d
        where s.job_id in (select value from json_each(${list}))
      union
      select h.id, d.value from history_events h
        join operations o on o.id = h.operation_id
        join access_steps a on a.id in (
          with recursive needed(id) as (
            select value from json_each(o.access_step_ids)
            union select n.value from needed join access_steps s on s.id = needed.id, json_each(s.needs) n
          ) select id from needed)
        join json_each(a.disturbs) d
        where h.id in (select value from json_each(${list}))`),
  )
}

/** Joints and tools of jobs that something may be wrong with. */
export function jointsOfJobs(read: Read, jobIds: readonly string[]): { id: string; job_id: string; name: string }[] {
  return read.all(
    sql`select id, job_id, name from job_joints where job_id in (select value from json_each(${JSON.stringify(jobIds)}))`,
  )
}

/** Tools that went into the vehicle on these jobs and were never written out. */
export function toolsLeftIn(read: Read, jobIds: readonly string[]): { job_id: string; tool: string }[] {
  return read.all(sql`
    select t.job_id, t.tool from tools_in t
    where t.job_id in (select value from json_each(${JSON.stringify(jobIds)}))
      and not exists (select 1 from tool_removals r where r.tool_in_id = t.id)`)
}

/** Every symptom with a component that causes it: the catalogue says so, or a failure was found with it. */
export function causes(read: Read): { symptom_id: string; component_id: string }[] {
  return read.all(sql`
    select s.value as symptom_id, c.id as component_id from components c, json_each(c.causes) s
    union select symptom_id, component_id from findings where symptom_id is not null
    union select symptom_id, component_id from history_events where symptom_id is not null and event = 'failure'`)
}

import { sql } from 'drizzle-orm'
import type { TaxOfRate } from '../../core/money.ts'
import type { Read } from '../../platform/database/types.ts'

/** Days and what was known then. */
export interface Span {
  first: string
  /** The last day that counts: of the month, or the one on which it is to be known. */
  last: string
  before: number
}

/** A vehicle that left, with the jobs on its order that stood and its invoice. */
export interface HandedBackRow {
  order_id: string
  vehicle_id: string
  jobs: number
  net_minor: number
  tax: TaxOfRate[]
  gross_minor: number
  borne_minor: number
}

export function handBacksIn(read: Read, { first, last, before }: Span): HandedBackRow[] {
  const rows = read.all<Omit<HandedBackRow, 'tax'> & { tax: string }>(sql`
    select b.work_order_id as order_id, w.vehicle_id, b.net_minor, b.tax, b.gross_minor,
      coalesce(b.borne_minor, 0) as borne_minor,
      (select count(*) from jobs j where j.work_order_id = w.id
        and not exists (select 1 from job_voidings x where x.job_id = j.id and x.created_at < ${before})) as jobs
    from hand_backs b join work_orders w on w.id = b.work_order_id
    where b."on" between ${first} and ${last} and b.created_at < ${before}`)
  return rows.map(row => ({ ...row, tax: JSON.parse(row.tax) as TaxOfRate[] }))
}

/** Our dated work in imported histories. */
export function importedJobsIn(read: Read, { first, last }: Span): { vehicle_id: string; hours: number | null }[] {
  return read.all(sql`
    select vehicle_id, hours from history_events
    where event = 'work' and by = 'us' and date between ${first} and ${last}`)
}

/** The day of the first job of ours on record; null without one. */
export function earliestJob(read: Read): string | null {
  const { day } = read.get<{ day: string | null }>(sql`
    select min(day) as day from (
      select min("on") as day from hand_backs
      union all select min(date) from history_events where event = 'work' and by = 'us')`)
  return day
}

/** Every month in which a job of ours was handed back, newest first. */
export function monthsOfJobs(read: Read): string[] {
  const rows = read.all<{ month: string }>(sql`
    select substr("on", 1, 7) as month from hand_backs
    union select substr(date, 1, 7) from history_events where event = 'work' and by = 'us' and date is not null
    order by 1 desc`)
  return rows.map(({ month }) => month)
}

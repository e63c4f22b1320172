import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

interface KnownThen {
  asOf: string
  before: number
}

/** How often a component was found failed with a symptom, by family and month (1 to 12). */
export interface CauseCount {
  component_id: string
  family_id: string
  month: number
  count: number
}

/** Failures found with a symptom: ours and those of imported histories, as known then. */
export function causeCounts(read: Read, symptomId: string, { asOf, before }: KnownThen): CauseCount[] {
  return read.all(sql`
    select e.component_id, v.family_id, cast(substr(e.day, 6, 2) as integer) as month, count(*) as count
    from (
      select vehicle_id, component_id, found_on as day from findings
        where symptom_id = ${symptomId} and found_on <= ${asOf} and created_at < ${before}
      union all
      select vehicle_id, component_id, date from history_events
        where event = 'failure' and symptom_id = ${symptomId} and date <= ${asOf}
    ) e join vehicles v on v.id = e.vehicle_id
    group by 1, 2, 3`)
}

/** Components of which the catalogue says that they cause a symptom. */
export function causesInCatalogue(read: Read, symptomId: string): string[] {
  return read
    .all<{ id: string }>(sql`
      select id from components c where exists (select 1 from json_each(c.causes) s where s.value = ${symptomId})`)
    .map(({ id }) => id)
}

interface MonthCount {
  month: number
  count: number
}

function twelve(rows: readonly MonthCount[]): number[] {
  const months = new Array<number>(12).fill(0)
  for (const { month, count } of rows) months[month - 1]! += count
  return months
}

/**
 * A trouble by month: failures of a component, with a symptom if one is given; of a symptom alone, stays that came in with
 * it besides, each once.
 */
export function troubleMonths(
  read: Read,
  { symptomId, componentId }: { symptomId: string | null; componentId: string | null },
  { asOf, before }: KnownThen,
): number[] {
  const failures = read.all<MonthCount>(sql`
    select cast(substr(day, 6, 2) as integer) as month, count(*) as count from (
      select f.found_on as day from findings f left join jobs j on j.id = f.job_id
        left join work_orders w on w.id = j.work_order_id
        where (${symptomId} is null or f.symptom_id = ${symptomId}) and (${componentId} is null or f.component_id = ${componentId})
          and f.found_on <= ${asOf} and f.created_at < ${before}
          and (${componentId} is not null or w.id is null
            or not exists (select 1 from json_each(w.symptom_ids) s where s.value = ${symptomId}))
      union all
      select date from history_events where event = 'failure' and date <= ${asOf}
        and (${symptomId} is null or symptom_id = ${symptomId}) and (${componentId} is null or component_id = ${componentId})
    ) group by 1`)
  return twelve(failures)
}

/** Stays that came in with a symptom: the instants. */
export function staysWith(read: Read, symptomId: string, before: number): number[] {
  return read
    .all<{ at: number }>(sql`
      select w.created_at as at from work_orders w
      where w.created_at < ${before} and exists (select 1 from json_each(w.symptom_ids) s where s.value = ${symptomId})`)
    .map(({ at }) => at)
}

/** All our jobs by month: handed back here, and our dated work of imported histories. */
export function jobMonths(read: Read, { asOf, before }: KnownThen): number[] {
  return twelve(
    read.all<MonthCount>(sql`
      select cast(substr(day, 6, 2) as integer) as month, count(*) as count from (
        select b."on" as day from hand_backs b join jobs j on j.work_order_id = b.work_order_id
          where b."on" <= ${asOf} and b.created_at < ${before}
            and not exists (select 1 from job_voidings x where x.job_id = j.id and x.created_at < ${before})
        union all
        select date from history_events where event = 'work' and by = 'us' and date <= ${asOf}
      ) group by 1`),
  )
}

/** Looks at a component: how many, and how many found it bad; on vehicles of a variant in a family, of the family, on all. */
export interface LookCount {
  component_id: string
  n_looked: number
  n_bad: number
  n_looked_variant: number
  n_bad_variant: number
  n_looked_all: number
  n_bad_all: number
}

/** Looks and checks; one vehicle counts once a stay, and bad when anybody found it so. A look that was skipped is none. */
export function lookCounts(
  read: Read,
  { family_id, variant_id }: { family_id: string; variant_id: string | null },
  componentIds: readonly string[],
): LookCount[] {
  return read.all(sql`
    select component_id, count(*) as n_looked_all, sum(bad) as n_bad_all,
      sum(is_family) as n_looked, sum(bad and is_family) as n_bad,
      sum(is_variant) as n_looked_variant, sum(bad and is_variant) as n_bad_variant
    from (
      select s.component_id, s.stay, max(s.bad) as bad, v.family_id = ${family_id} as is_family,
        v.family_id = ${family_id} and ifnull(v.variant_id = ${variant_id}, 0) as is_variant
      from (
        select l.component_id, j.work_order_id as stay, r.finding_id is not null or r.fine = 0 as bad
        from job_looks l join look_results r on r.look_id = l.id join jobs j on j.id = l.job_id
        where r.skipped_reason is null
        union all
        select component_id, work_order_id, finding_id is not null from checks_made
      ) s join work_orders w on w.id = s.stay join vehicles v on v.id = w.vehicle_id
      where s.component_id in (select value from json_each(${JSON.stringify(componentIds)}))
      group by 1, 2
    ) group by 1`)
}

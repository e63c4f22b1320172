import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/**
 * How many findings name work of an operation as the cause of a failure, asked for by operation, component and failure mode.
 * Of those found and written down by then.
 */
export function causesNamed(
  read: Read,
  known: { asOf: string; before: number },
): (operationId: string, componentId: string, modeId: string | null) => number {
  const rows = read.all<{
    operation_id: string
    component_id: string
    failure_mode_id: string | null
    count: number
  }>(sql`
    select coalesce(j.operation_id, p.operation_id) as operation_id, f.component_id, f.failure_mode_id, count(*) as count
    from findings f
    left join jobs j on j.id = f.caused_by_job_id
    left join prior_works p on p.id = f.caused_by_prior_work_id
    where coalesce(j.operation_id, p.operation_id) is not null
      and f.found_on <= ${known.asOf} and f.created_at < ${known.before}
    group by 1, 2, 3`)
  const key = (operationId: string, componentId: string, modeId: string | null) =>
    `${operationId} ${componentId} ${modeId ?? ''}`
  const counts = new Map(rows.map(row => [key(row.operation_id, row.component_id, row.failure_mode_id), row.count]))
  return (operationId, componentId, modeId) => counts.get(key(operationId, componentId, modeId)) ?? 0
}

/** Where a finding names work of an operation as the cause of a failure: 'vehicle day' of each. Of those written down by then. */
export function causedOn(
  read: Read,
  pair: { operationId: string; componentId: string; modeId: string | null },
  known: { asOf: string; before: number },
): Set<string> {
  const rows = read.all<{ at: string }>(sql`
    select f.vehicle_id || ' ' || f.found_on as at
    from findings f
    left join jobs j on j.id = f.caused_by_job_id
    left join prior_works p on p.id = f.caused_by_prior_work_id
    where coalesce(j.operation_id, p.operation_id) = ${pair.operationId} and f.component_id = ${pair.componentId}
      and f.failure_mode_id is ${pair.modeId} and f.found_on <= ${known.asOf} and f.created_at < ${known.before}`)
  return new Set(rows.map(({ at }) => at))
}

/** What vehicles are called, by id, with their family. */
export function vehicleTitles(read: Read, ids: readonly string[]): Map<string, { title: string; family: string }> {
  const rows = read.all<{ id: string; title: string; family: string }>(sql`
    select v.id, coalesce(v.plate, v.vin, v.frame_number, v.engine_number, v.imported_as, f.name) as title, f.name as family
    from vehicles v join families f on f.id = v.family_id
    where v.id in (select value from json_each(${JSON.stringify(ids)}))`)
  return new Map(rows.map(({ id, ...names }) => [id, names]))
}

/** How many files were imported: a later one may change what was known on an earlier day. */
export function importCount(read: Read): number {
  return read.get<{ count: number }>(sql`select count(*) as count from history_imports`).count
}

export function vehicleCount(read: Read): number {
  return read.get<{ n: number }>(sql`select count(*) as n from vehicles`).n
}

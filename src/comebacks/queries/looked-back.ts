import { sql } from 'drizzle-orm'
import type { Read } from '../../platform/database/types.ts'

/** Earlier work of imported histories whose comeback found the component failed, on that row or on that day. */
export function importedReturnsWith(read: Read, componentId: string): Set<string> {
  const rows = read.all<{ id: string }>(sql`
    select distinct c.comeback_of_id as id from history_events c
    join history_events f on f.vehicle_id = c.vehicle_id and f.date = c.date and f.event = 'failure'
    where c.comeback_of_id is not null and f.component_id = ${componentId}`)
  return new Set(rows.map(row => row.id))
}

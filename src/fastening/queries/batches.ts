import { and, eq, isNotNull, isNull, type SQL, sql } from 'drizzle-orm'
import { batch_faults, parts } from '../../parts/schema.ts'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import { sameText } from '../../platform/database/same-text.ts'
import type { Read } from '../../platform/database/types.ts'
import { jobs, part_lines, standing_part_lines, work_orders } from '../../work-orders/schema.ts'
import { part_line_settlements } from '../schema.ts'

/** Lines taken off before the batch was found bad were mistakes; one taken off since may have been fitted, and stays in doubt. */
const wasOn = sql`not exists (select 1 from part_line_removals off where off.part_line_id = ${part_lines.id}
  and (off.created_at, off.id) < (${batch_faults.created_at}, ${batch_faults.id}))`
/** A part line that got any of a batch that was found bad; both tables are joined. */
export const isOfBatch = and(
  eq(part_lines.part_id, batch_faults.part_id),
  sameText(part_lines.batch, batch_faults.batch),
  wasOn,
)

const linesOfVehicle = (scope: SQL) => (read: Read) =>
  read
    .select({
      cause_id: batch_faults.id,
      part_line_id: part_lines.id,
      vehicle_id: work_orders.vehicle_id,
      customer_id: work_orders.customer_id,
      order_id: work_orders.id,
      order_number: work_orders.number,
      part_name: parts.name,
      since: part_lines.created_at,
      known_at: sql<number>`max(${batch_faults.created_at}, ${part_lines.created_at})`,
      settlement: part_line_settlements,
    })
    .from(batch_faults)
    .innerJoin(part_lines, and(isOfBatch, isNull(part_lines.joint_id)))
    .innerJoin(parts, eq(parts.id, part_lines.part_id))
    .innerJoin(jobs, eq(jobs.id, part_lines.job_id))
    .innerJoin(work_orders, eq(work_orders.id, jobs.work_order_id))
    .leftJoin(
      part_line_settlements,
      and(
        eq(part_line_settlements.batch_fault_id, batch_faults.id),
        eq(part_line_settlements.part_line_id, part_lines.id),
      ),
    )
    .where(scope)
    .prepare()

const linesEverywhere = hot(linesOfVehicle(sql`true`))
const linesOfOne = hot(linesOfVehicle(sql`${work_orders.vehicle_id} = ${sql.placeholder('vehicleId')}`))

/** Parts of bad batches that were fitted without a word of the joint: on one vehicle, or (null) on all. */
export function loosePartsOfBatches(read: Read, vehicleId: string | null) {
  return vehicleId === null ? linesEverywhere(read).all() : linesOfOne(read).all({ vehicleId })
}
export type LoosePartRow = ReturnType<typeof loosePartsOfBatches>[number]

export const insertPartLineSettlement = hotInsert(part_line_settlements)

/** The batches of a part that were noted on jobs, the newest first. */
export function batchesOnJobs(read: Read, partId: string): string[] {
  return read
    .select({ batch: sql<string>`${standing_part_lines.batch}` })
    .from(standing_part_lines)
    .where(and(eq(standing_part_lines.part_id, partId), isNotNull(standing_part_lines.batch)))
    .groupBy(standing_part_lines.batch)
    .orderBy(sql`max(${standing_part_lines.created_at}) desc`)
    .limit(100)
    .all()
    .map(row => row.batch)
}

import { and, desc, eq, getTableColumns, isNull, sql } from 'drizzle-orm'
import { hot } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { hand_backs, job_voidings, jobs, work_orders } from '../schema.ts'
import type { JobRow } from './plan.ts'

export interface JobOfVehicle extends JobRow {
  work_order_number: string
  symptom_ids: string[]
  handed_back_at: number | null
  handed_back_on: string | null
  /** The odometer at hand-back, else when it came in. */
  handed_back_km: number | null
}

const jobsOfVehicle = hot((read: Read) =>
  read
    .select({
      ...getTableColumns(jobs),
      work_order_number: work_orders.number,
      symptom_ids: work_orders.symptom_ids,
      handed_back_at: hand_backs.at,
      handed_back_on: hand_backs.on,
      handed_back_km: sql<number | null>`coalesce(${hand_backs.odometer_km}, ${work_orders.odometer_km})`,
    })
    .from(jobs)
    .innerJoin(work_orders, eq(work_orders.id, jobs.work_order_id))
    .leftJoin(hand_backs, eq(hand_backs.work_order_id, work_orders.id))
    .leftJoin(job_voidings, eq(job_voidings.job_id, jobs.id))
    .where(and(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')), isNull(job_voidings.id)))
    .orderBy(desc(jobs.id))
    .prepare(),
)

/** Newest first, without voided ones. */
export function findJobsOfVehicle(read: Read, vehicleId: string): JobOfVehicle[] {
  return jobsOfVehicle(read).all({ vehicleId })
}

import type { Context } from '../../platform/context.ts'
import { findJobsOfVehicle, type JobOfVehicle } from '../queries/vehicle-jobs.ts'
import { type WarrantyTerm, warrantyTerm } from '../rules/warranty.ts'

/** A job among all those of a vehicle; `warranty` once it was handed back. */
export interface JobInHistory extends JobOfVehicle {
  warranty: WarrantyTerm | null
}

/** Every job that this vehicle ever had here, voided ones left out, newest first. */
export function jobsOfVehicle(ctx: Context, vehicleId: string): JobInHistory[] {
  return findJobsOfVehicle(ctx.read, vehicleId).map(job => ({
    ...job,
    warranty:
      job.handed_back_on === null
        ? null
        : warrantyTerm(job, { on: job.handed_back_on, odometer_km: job.handed_back_km }),
  }))
}

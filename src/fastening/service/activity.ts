import type { Context } from '../../platform/context.ts'
import { jobsWithRecords, wrenchUses } from '../queries.ts'

/** Which of these jobs have a torque record: their work has begun. */
export function jobsWithTorqueRecords(ctx: Context, jobIds: string[]): Set<string> {
  return jobsWithRecords(ctx.read, jobIds)
}

/** How often each wrench was used since a day (YYYY-MM-DD): its cycles, counted from the records. */
export function wrenchCycles(ctx: Context): (wrenchId: string, sinceOn: string) => number {
  return (wrenchId, sinceOn) => wrenchUses(ctx.read, wrenchId, Date.parse(sinceOn))
}

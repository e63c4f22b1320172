import type { Context } from '../../platform/context.ts'
import { jobsWithRecords } from '../queries.ts'

/** Which of these jobs have a torque record: their work has begun. */
export function jobsWithTorqueRecords(ctx: Context, jobIds: string[]): Set<string> {
  return jobsWithRecords(ctx.read, jobIds)
}

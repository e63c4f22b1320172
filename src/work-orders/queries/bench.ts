import { and, asc, eq, getTableColumns, isNull, or, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { clock_starts, clock_stops, engine_turns, job_joints, job_marks, jobs, mark_records } from '../schema.ts'

export type MarkRecordRow = typeof mark_records.$inferSelect
export type EngineTurnRow = typeof engine_turns.$inferSelect
export type ClockStopRow = typeof clock_stops.$inferSelect
/** `stopped_at` is NULL while the clock runs. */
export type ClockStartRow = typeof clock_starts.$inferSelect & { stopped_at: number | null }

export const insertMarkRecord = hotInsert(mark_records)

const markRecordsOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(mark_records))
    .from(mark_records)
    .innerJoin(job_marks, eq(job_marks.id, mark_records.mark_id))
    .innerJoin(jobs, eq(jobs.id, job_marks.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .prepare(),
)

export function findMarkRecords(read: Read, orderId: string): MarkRecordRow[] {
  return markRecordsOfOrder(read).all({ orderId })
}

/** `isBeforeWork` in SQL: a joint is the work of its job. */
const beforeWorkOfJoint = and(
  isNull(job_marks.joint_id),
  isNull(job_marks.before_step_id),
  sql`${job_marks.job_id} = (select ${job_joints.job_id} from ${job_joints} where ${job_joints.id} = ${sql.placeholder('jointId')})`,
)

const unmadeMarksOfJoint = hot((read: Read) =>
  read
    .select({ id: job_marks.id, job_id: job_marks.job_id, text: job_marks.text })
    .from(job_marks)
    .leftJoin(mark_records, eq(mark_records.mark_id, job_marks.id))
    .where(and(or(eq(job_marks.joint_id, sql.placeholder('jointId')), beforeWorkOfJoint), isNull(mark_records.id)))
    .orderBy(asc(job_marks.id))
    .prepare(),
)

export function findUnmadeMarksOfJoint(read: Read, jointId: string) {
  return unmadeMarksOfJoint(read).all({ jointId })
}

export const insertEngineTurnRow = hotInsert(engine_turns)

const engineTurnsOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(engine_turns))
    .from(engine_turns)
    .innerJoin(jobs, eq(jobs.id, engine_turns.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(engine_turns.id))
    .prepare(),
)

/** In the order in which they were written down; so are the clocks below. */
export function findEngineTurns(read: Read, orderId: string): EngineTurnRow[] {
  return engineTurnsOfOrder(read).all({ orderId })
}

export const insertClockStart = hotInsert(clock_starts)
export const insertClockStop = hotInsert(clock_stops)

function clocks(read: Read) {
  return read
    .select({ ...getTableColumns(clock_starts), stopped_at: clock_stops.at })
    .from(clock_starts)
    .leftJoin(clock_stops, eq(clock_stops.clock_start_id, clock_starts.id))
}

const clocksOfOrder = hot((read: Read) =>
  clocks(read)
    .innerJoin(jobs, eq(jobs.id, clock_starts.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(clock_starts.id))
    .prepare(),
)

export function findClocks(read: Read, orderId: string): ClockStartRow[] {
  return clocksOfOrder(read).all({ orderId })
}

const clockOfId = hot((read: Read) =>
  clocks(read)
    .where(eq(clock_starts.id, sql.placeholder('id')))
    .prepare(),
)

export function findClock(read: Read, id: string): ClockStartRow | undefined {
  return clockOfId(read).get({ id })
}

const runningClockOfPerson = hot((read: Read) =>
  clocks(read)
    .where(and(sql`${clock_starts.created_by} is ${sql.placeholder('personId')}`, isNull(clock_stops.id)))
    .prepare(),
)

/** Whoever is at the command line has no id, and a clock all the same. */
export function findRunningClock(read: Read, personId: string | null): ClockStartRow | undefined {
  return runningClockOfPerson(read).get({ personId })
}

const clockStopOf = hot((read: Read) =>
  read
    .select()
    .from(clock_stops)
    .where(eq(clock_stops.clock_start_id, sql.placeholder('clockId')))
    .prepare(),
)

export function findClockStop(read: Read, clockId: string): ClockStopRow | undefined {
  return clockStopOf(read).get({ clockId })
}

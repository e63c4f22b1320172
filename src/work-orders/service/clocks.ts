import { settingsOf } from '../../accounts/index.ts'
import { localTimeOf } from '../../core/calendar.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import type { ClockInput, ClockStart, ClockStop } from '../contract.ts'
import {
  type ClockStartRow,
  type ClockStopRow,
  findClock,
  findClockStop,
  findClocks,
  findRunningClock,
  insertClockStart,
  insertClockStop,
} from '../queries/bench.ts'
import { findJob, type JobRow } from '../queries/plan.ts'
import { isForgotten } from '../rules/forgotten-clock.ts'
import { requireJob, requireOrder, requireStandingJob } from './known.ts'

/** A clock that was started, and the job whose clock of the same person it stopped. */
export interface ClockBegun {
  clock: ClockStart
  left: { number: string; letter: string; task: string } | null
}

/**
 * Technician. The clock of the acting person runs on this job from now; the one that ran on another job stops, since nobody
 * works on two at once. 409 `clock-running` when it runs on this job already; 422 for a time in the future or before the
 * start of the clock that it would stop.
 */
export function startClock(ctx: Context, jobId: string, input: ClockInput): ClockBegun {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const job = requireStandingJob(ctx, jobId)
    const running = findRunningClock(tx, ctx.actor?.id ?? null)
    if (running?.job_id === jobId) {
      throw problem('clock-running', {
        detail: `Your clock on "${job.task}" runs since ${localTime(ctx, running.at)}.`,
      })
    }
    const record = newRecord(ctx)
    const at = atOf(ctx, input, record.created_at, running?.at ?? null)
    if (running !== undefined) insertStop(ctx, tx, running, at)
    const row = { ...record, job_id: jobId, at }
    insertClockStart(tx, row)
    recordEvent(ctx, tx, { action: 'clock.started', table: 'jobs', id: jobId })
    return { clock: toWire({ ...row, stopped_at: null }), left: running === undefined ? null : leftJob(ctx, running) }
  })
}

function leftJob(ctx: Context, { job_id }: ClockStartRow): ClockBegun['left'] {
  const { letter, task, work_order_id }: JobRow = findJob(ctx.read, job_id)!
  return { number: requireOrder(ctx, work_order_id).number, letter, task }
}

/** Technician. Also a clock that somebody forgot. 409 `clock-stopped` when it does not run any more. */
export function stopClock(ctx: Context, id: string, input: ClockInput): ClockStop {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const clock = requireClock(ctx, id)
    if (clock.stopped_at !== null) {
      throw problem('clock-stopped', { detail: `That clock was stopped at ${localTime(ctx, clock.stopped_at)}.` })
    }
    const row = insertStop(ctx, tx, clock, atOf(ctx, input, ctx.clock.now(), clock.at))
    recordEvent(ctx, tx, { action: 'clock.stopped', table: 'jobs', id: clock.job_id })
    return stopToWire(row)
  })
}

/** Stops the clock of the acting person on this job, if it runs; inside the transaction at hand, or one of its own. */
export function stopRunningClock(ctx: Context, jobId: string): void {
  write(ctx, tx => {
    const running = findRunningClock(tx, ctx.actor?.id ?? null)
    if (running?.job_id !== jobId) return
    insertStop(ctx, tx, running, Math.max(ctx.clock.now(), running.at))
    recordEvent(ctx, tx, { action: 'clock.stopped', table: 'jobs', id: jobId })
  })
}

/**
 * Stops every clock that runs on these jobs of an order, whoever's: the vehicle leaves, or the job is not done after all.
 * The caller's event covers the rows.
 */
export function stopClocksOn(ctx: Context, tx: Tx, orderId: string, isOn: (jobId: string) => boolean): void {
  for (const clock of findClocks(tx, orderId)) {
    if (clock.stopped_at === null && isOn(clock.job_id)) insertStop(ctx, tx, clock, Math.max(ctx.clock.now(), clock.at))
  }
}

/** 404 for an unknown job; oldest first. */
export function clocksOfJob(ctx: Context, jobId: string): ClockStart[] {
  const { work_order_id } = requireJob(ctx, jobId)
  return findClocks(ctx.read, work_order_id)
    .filter(clock => clock.job_id === jobId)
    .map(toWire)
}

/** The clock of the acting person that runs now, on whichever job; undefined when none does. */
export function runningClockOf(ctx: Context): ClockStartRow | undefined {
  return findRunningClock(ctx.read, ctx.actor?.id ?? null)
}

/** The running clock of the acting person, if it was forgotten on an earlier day. */
export function forgottenClockOf(ctx: Context): ClockStartRow | undefined {
  const running = runningClockOf(ctx)
  if (running === undefined) return undefined
  return isForgotten(running.at, ctx.clock.now(), settingsOf(ctx).time_zone) ? running : undefined
}

/** 404 when there is none. */
export function clockById(ctx: Context, id: string): ClockStart {
  return toWire(requireClock(ctx, id))
}

/** 404 while the clock runs. */
export function stopOfClock(ctx: Context, id: string): ClockStop {
  requireClock(ctx, id)
  const row = findClockStop(ctx.read, id)
  if (row === undefined) throw notFound('stop of the clock', id)
  return stopToWire(row)
}

function insertStop(ctx: Context, tx: Tx, clock: ClockStartRow, at: number): ClockStopRow {
  const row = { ...newRecord(ctx), clock_start_id: clock.id, at }
  insertClockStop(tx, row)
  return row
}

/** Two clocks of one shop may differ by so much. */
const CLOCKS_APART_MS = 10 * 60_000

function atOf(ctx: Context, { at: sent }: ClockInput, now: number, earliest: number | null): number {
  const at = sent === undefined ? Math.max(now, earliest ?? now) : fromInstant(sent)
  if (at > now + CLOCKS_APART_MS) {
    throw invalid({
      pointer: '/at',
      detail: 'This lies in the future: hours are clocked as they pass.',
      code: 'future',
    })
  }
  if (earliest !== null && at < earliest) {
    const detail = `The clock was started at ${localTime(ctx, earliest)}: it cannot stop before.`
    throw invalid({ pointer: '/at', detail, code: 'too_early' })
  }
  return at
}

function requireClock(ctx: Context, id: string): ClockStartRow {
  const clock = findClock(ctx.read, id)
  if (clock === undefined) throw notFound('clock', id)
  return clock
}

function localTime(ctx: Context, at: number): string {
  return localTimeOf(at, settingsOf(ctx).time_zone)
}

function toWire({ id, created_by, created_at, job_id, at, stopped_at }: ClockStartRow): ClockStart {
  return {
    ...{ id, created_by, created_at: toInstant(created_at), job_id, at: toInstant(at) },
    ...(stopped_at !== null && { stopped_at: toInstant(stopped_at) }),
  }
}

function stopToWire(row: ClockStopRow): ClockStop {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}

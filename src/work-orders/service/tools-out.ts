import { settingsOf } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Removal, RemovalInput, Shortfall, ShortfallInput } from '../contract.ts'
import {
  findRemoval,
  findShortfalls,
  insertRemoval,
  insertShortfall,
  type RemovalRow,
  type ShortfallRow,
  type ToolInRow,
} from '../queries/doings.ts'
import { countFault, maySayNotInside } from '../rules/tool-count.ts'
import { requireJob, requireOrderInHouse } from './known.ts'
import { instantNotBefore } from './steps.ts'
import { requireTool } from './tools.ts'

/**
 * Technician. The tool is out: also when its job was voided meanwhile. 409 `tool-out` when it was out already; 422 when
 * several went in and not as many came out, unless the owner says how it is known that the rest is not in the vehicle.
 */
export function takeToolOut(ctx: Context, id: string, input: RemovalInput): Removal {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const tool = requireToolStillIn(ctx, id)
    const count =
      input.not_inside === undefined ? wholeCount(tool, input.count) : lessThanWentIn(ctx, tool, input.count)
    const record = newRecord(ctx)
    const at = instantNotBefore(input.at, record.created_at, tool.at, 'It was put in at')
    const row = { ...record, tool_in_id: id, at, count, not_inside: input.not_inside ?? null }
    insertRemoval(tx, row)
    recordEvent(ctx, tx, { action: 'tool.taken-out', table: 'tools_in', id })
    return removalToWire(row)
  })
}

/**
 * Technician. Fewer came out than went in, and where the rest may be. The tool stays in, and blocks what it blocked, until all
 * of it is out. 422 when nothing is missing; 409 `tool-out` when it was out already.
 */
export function noteShortfall(ctx: Context, id: string, input: ShortfallInput): Shortfall {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const tool = requireToolStillIn(ctx, id)
    refuseNoneMissing(tool, input.count)
    const record = newRecord(ctx)
    const at = instantNotBefore(input.at, record.created_at, tool.at, 'It was put in at')
    const row = { ...record, tool_in_id: id, count: input.count, may_be: input.may_be, at }
    insertShortfall(tx, row)
    recordEvent(ctx, tx, { action: 'tool.missing', table: 'tools_in', id })
    return shortfallToWire(row)
  })
}

function requireToolStillIn(ctx: Context, id: string): ToolInRow {
  const tool = requireTool(ctx, id)
  requireOrderInHouse(ctx, requireJob(ctx, tool.job_id).work_order_id)
  if (tool.removed_at !== null) {
    throw problem('tool-out', { detail: `"${tool.tool}" was taken out ${momentWords(ctx, tool.removed_at)}.` })
  }
  return tool
}

/** NULL for a single thing, which nobody counts. */
function wholeCount({ count }: ToolInRow, cameOut: number | undefined): number | null {
  if (cameOut === undefined && count === 1) return null
  const detail =
    cameOut === undefined ? `${count} went in: count what came out, and say how many.` : countFault(count, cameOut)
  if (detail !== null) throw invalid({ pointer: '/count', detail, code: cameOut === undefined ? 'needed' : 'count' })
  return count
}

/** As counted now, else as counted when it was found that some are missing. */
function lessThanWentIn(ctx: Context, tool: ToolInRow, cameOut: number | undefined): number {
  if (!maySayNotInside(ctx.actor?.role ?? 'command line')) {
    throw problem('role-not-allowed', {
      detail: 'Only the owner may say that what is missing is not in the vehicle.',
    })
  }
  const count = cameOut ?? tool.out_count
  if (count === null) {
    const detail = `${tool.count} went in: count what came out, and say how many.`
    throw invalid({ pointer: '/count', detail, code: 'needed' })
  }
  refuseNoneMissing(tool, count)
  return count
}

function refuseNoneMissing({ count }: ToolInRow, cameOut: number): void {
  if (cameOut < count) return
  const detail =
    cameOut === count ? `All ${count} that went in came out: nothing is missing.` : countFault(count, cameOut)
  throw invalid({ pointer: '/count', detail: detail ?? '', code: 'count' })
}

/** "at 14:05", with its day when that is not today, as the workshop's clock shows it. */
function momentWords(ctx: Context, at: number): string {
  const { time_zone } = settingsOf(ctx)
  const day = localDateOf(at, time_zone)
  const isToday = day === localDateOf(ctx.clock.now(), time_zone)
  return `at ${localTimeOf(at, time_zone)}${isToday ? '' : ` on ${longDay(day)}`}`
}

/** 404 while the tool is in. */
export function removalOfTool(ctx: Context, id: string): Removal {
  requireTool(ctx, id)
  const row = findRemoval(ctx.read, id)
  if (row === undefined) throw notFound('removal of the tool', id)
  return removalToWire(row)
}

/** Oldest first; the newest holds while the tool is in. */
export function shortfallsOfTool(ctx: Context, id: string): Shortfall[] {
  requireTool(ctx, id)
  return findShortfalls(ctx.read, id).map(shortfallToWire)
}

function removalToWire({ count, not_inside, ...row }: RemovalRow): Removal {
  return {
    ...{ ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) },
    ...withoutNulls({ count, not_inside }),
  }
}

function shortfallToWire(row: ShortfallRow): Shortfall {
  return { ...row, created_at: toInstant(row.created_at), at: toInstant(row.at) }
}
